import { foldCase } from '../../../src/case/case.ts';
import type { CaseEvent, Json } from '../../../src/case/events.ts';
import type { Moment } from '../../../src/conversation/moment.ts';
import { drawFrom } from '../../../src/conversation/random.ts';
import type { OpenAsk, Question } from '../../../src/conversation/state.ts';
import { shipped as content } from '../../support/shipped.ts';
import { lump, proposals } from '../../support/targets.ts';

/** 11:00 in the clinics' zone. */
export const start = Date.parse('2030-03-04T08:00:00Z');

/** An answer of the case; its item is null unless given. */
export function said(field: string, value: Json, item: string | null = null): CaseEvent {
  return { type: 'answered', field, item, value };
}

/** A case that was decided and goes ahead, with these nodules proposed, biggest first. */
export function decidedCase(proposed: readonly string[] = ['n1']): readonly CaseEvent[] {
  return [
    { type: 'opened', tag: 'AK', siteId: 'oruma', ownerId: 'w', practice: false },
    said('patient.birthYear', 1982),
    ...proposed.flatMap((id, index) => [
      said('site', index === 0 ? 'right' : 'left', id),
      said('mm', [22, 15, 14], id),
      said('composition', 'solid', id),
    ]),
    said('dangerSigns', []),
    said('bleeding', []),
    {
      type: 'decided',
      decision: 'sample',
      policy: 'common-practice',
      assessment: null,
      proposed: proposals(...proposed),
    },
    said('go-ahead', 'now'),
  ];
}

/** Everything at hand: syringe, thin needles, four slides, alcohol in a lidded jar. */
export const wellSupplied: CaseEvent = said('supplies', ['syringe', 'fine-needles', 'slides-many', 'alcohol-lidded']);

/** A specimen with its code, slides pencilled and code read. */
export function coded(specimen = 's1', nodule = 'n1', slides = 4): readonly CaseEvent[] {
  return [
    { type: 'code-issued', specimen, target: lump(nodule), code: '48291354', technique: 'capillary', slides },
    { type: 'code-checked', specimen },
  ];
}

/** What a decision, reader or recorder looks at, over a hand-made history; events are a minute apart unless timed. */
export function momentOf(
  events: readonly (CaseEvent | { readonly at: number; readonly event: CaseEvent })[],
  more: {
    readonly now?: number;
    readonly item?: string | null;
    readonly siteId?: string;
    readonly vars?: Readonly<Record<string, Json>>;
    readonly answer?: Json;
    readonly options?: OpenAsk['options'];
    readonly field?: string;
    readonly questions?: readonly Question[];
  } = {},
): Moment {
  const history = events.map((one, index) => {
    const event = 'event' in one ? one.event : one;
    const moved = event.type === 'opened' && more.siteId ? { ...event, siteId: more.siteId } : event;
    const at = 'event' in one ? one.at : start;
    return { caseId: 'c', sequence: index + 1, at, by: 'w', eventId: 'e', flow: '-', event: moved };
  });
  const of = foldCase('c', content.programme.id, history);
  const item = more.item === undefined ? 's1' : more.item;
  const world = {
    programme: content.programme,
    texts: content.texts,
    flows: content.flows,
    roster: [],
    quick: content.quick,
  };
  const person = { id: 'w', locale: 'en', siteId: 'oruma', roles: ['worker'] };
  return {
    world,
    now: more.now ?? start,
    draw: drawFrom(Uint8Array.from({ length: 16 }, (_, index) => index)),
    person,
    channel: 'sms',
    frame: { vars: more.vars ?? {}, item },
    case: of,
    specimen: of.specimens.find((one) => one.id === item) ?? null,
    ask: more.options ? { field: more.field ?? 'x', options: more.options } : null,
    secrets: [],
    answer: more.answer ?? null,
    cases: [of],
    questions: more.questions ?? [],
  } as unknown as Moment;
}
