/** The decision of a case as a picture: what was answered until now, weighed and drawn anew whenever it is asked for. */
import type { Case } from '../../case/case.ts';
import { findingsOf } from '../../case/findings-of.ts';
import { assess } from '../../clinical/indication.ts';
import { policyIds } from '../../clinical/policies/policy.ts';
import { reasons } from '../../clinical/reasons.ts';
import type { Content } from '../../conversation/content.ts';
import { siteOf } from '../../conversation/programme.ts';
import { localTime } from '../../conversation/schedule.ts';
import { type DecisionPicture, decisionPicture } from '../../drawings/decision-picture.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import type { Line } from '../../line/line.ts';
import type { Words } from '../../text/say-word.ts';
import type { BenchClock } from './clock.ts';
import { type Answer, type Asked, type BenchPart, ok, refused } from './part.ts';

/** What the page gets. */
export interface ShownDecision extends DecisionPicture {
  readonly caseId: string;
  readonly tag: string;
}

export class DecisionPart implements BenchPart {
  readonly get = { '/decision': (asked: Asked) => this.decision(asked) };
  private readonly line: Line;
  private readonly clock: BenchClock;
  private readonly content: Content;
  private readonly words: Words;
  /** The last picture and what it was drawn from: an open page asks again after each text. */
  private last: { readonly from: string; readonly picture: DecisionPicture } | null = null;

  /** `words`: of the page, in this language. */
  constructor(line: Line, clock: BenchClock, words: Words, language: string) {
    this.line = line;
    this.clock = clock;
    this.content = line.options.content;
    this.words = { ...lineWords(this.content, language), ...words };
  }

  private async decision({ query }: Asked): Promise<Answer> {
    const id = query.get('case');
    if (id === null || id === '' || id.length > 100) return refused(400, 'Which case?');
    const of = await this.line.store.findCase(this.content.programme.id, id);
    if (!of) return refused(404, 'There is no such case.');
    const shown: ShownDecision = { ...this.draw(of), caseId: of.id, tag: of.tag };
    return ok(shown);
  }

  private draw(of: Case): DecisionPicture {
    const { programme } = this.content;
    const site = siteOf(programme, of.siteId);
    const { year } = localTime(this.clock.now(), site.zone);
    const findings = findingsOf(of, { guidance: site.guidance, year });
    const from = JSON.stringify(findings);
    if (this.last?.from !== from) {
      const { policy, inrHours } = programme;
      this.last = {
        from,
        picture: decisionPicture(findings, assess(findings, { policy, inrHours }), programme, this.words),
      };
    }
    return this.last.picture;
  }
}

/** The line's own words for reasons, policies and their levels: what the picture says, the texts say too. */
function lineWords({ texts }: Content, language: string): Words {
  const levels = ['benign', 'very-low', 'low', 'intermediate', 'high', 'unclassified'];
  const keys = [
    ...reasons.map((one) => `because-${one}`),
    ...policyIds.map((one) => `policy-${one}`),
    ...levels.map((one) => `level-${one}`),
  ];
  return Object.fromEntries(keys.map((key) => [key, texts.render(language, `decision.${key}` as TextKey, () => '')]));
}
