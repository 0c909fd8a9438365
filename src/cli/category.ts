import { actionFor, type CategoryAction } from '../clinical/cytology/action.ts';
import { MEANINGS } from '../clinical/cytology/categories.ts';
import { type ManagementInChildren, managementInChildren } from '../clinical/cytology/children.ts';
import { type Crosswalk, crosswalk } from '../clinical/cytology/crosswalk.ts';
import { NODE_MEANINGS, NODE_RISK, nodeAdvice } from '../clinical/cytology/nodes.ts';
import { type ParsedResult, parseResult } from '../clinical/cytology/parse.ts';
import { parseNodeResult, saysNodeCode } from '../clinical/cytology/parse-node.ts';
import { type RiskOfMalignancy, riskOf, type SystemRisk } from '../clinical/cytology/risk.ts';
import { toAsciiDigits } from '../text/digits.ts';
import { readArguments } from './arguments.ts';

type Output = { write(text: string): unknown };

const HELP = `neckline category CODE [--json]

What a cytology category means, what it is in the other systems, its published
risk with source, and what to do by when. CODE is of Thy, Bethesda or TIR:
Thy3a, "Bethesda IV", B4, TIR3B; or of a lymph node (Sydney 2020): L1 to L5.
What could mean two categories is asked back.

  --json   one JSON line
  --help   this text

Exit: 0 understood, 1 ambiguous (what is asked is printed), 2 no such code or wrong use.
`;

const QUESTIONS: { readonly [ask in Extract<ParsedResult, { ok: false }>['ask']]: string } = {
  'bare-number': 'which system? The numbers of the systems do not line up',
  'bare-roman': 'which system? A numeral alone may be Bethesda, or a 5 read as V',
  'letter-missing': 'which letter? Without it the code is two categories',
  'letter-unclear': 'does the letter belong to the code?',
  'two-codes': 'which one? Two codes were given',
  'no-such-code': 'there is no such code',
  unreadable: 'no category was found in this',
};

/** Prints a category to `stdout`. Returns 0; 1 for an ambiguous code, with what is asked; 2 for an unknown one or wrong use. */
export function runCategory(args: readonly string[], out: { stdout: Output; stderr: Output }): number {
  const { help, odd, words, values } = readArguments(args, { json: { type: 'boolean' } });
  if (help) {
    out.stdout.write(HELP);
    return 0;
  }
  const text = words.join(' ');
  if (odd !== null || text.trim() === '') {
    out.stderr.write(odd === null ? 'which CODE? see --help\n' : `unknown option ${odd}; see --help\n`);
    return 2;
  }
  const { json } = values;
  if (saysNodeCode(toAsciiDigits(text))) return runNode(toAsciiDigits(text), json === true, out);
  const result = parseResult(toAsciiDigits(text));
  if (!result.ok) {
    const unknown = result.ask === 'no-such-code' || result.ask === 'unreadable';
    const choices = result.options.length > 0 ? ` Did they mean: ${result.options.join(', ')}?` : '';
    if (json) {
      out.stdout.write(`${JSON.stringify({ said: result.said, ask: result.ask, options: result.options })}\n`);
    } else if (!unknown) {
      out.stdout.write(`${result.said}: ${QUESTIONS[result.ask]}.${choices}\n`);
    }
    if (unknown) out.stderr.write(`${result.said}: ${QUESTIONS[result.ask]}.${choices}\n`);
    return unknown ? 2 : 1;
  }
  const known = {
    said: result.said,
    system: result.system,
    code: result.code,
    canonical: result.canonical,
    words: result.words,
    notes: result.notes,
    meaning: MEANINGS[result.code],
    crosswalk: crosswalk(result.canonical),
    risk: riskOf(result.code),
    children: managementInChildren(result.code),
    action: actionFor(result.code),
  };
  out.stdout.write(json ? `${JSON.stringify(known)}\n` : inWords(known));
  return 0;
}

/** A lymph node's category has no place in the thyroid systems, so it has no crosswalk. */
function runNode(text: string, json: boolean, out: { stdout: Output }): number {
  const result = parseNodeResult(text);
  if (!result.ok) {
    const { said, ask, options } = result;
    out.stdout.write(
      json ? `${JSON.stringify({ said, ask, options })}\n` : `${said}: which one? One of ${options.join(', ')}\n`,
    );
    return 1;
  }
  const { said, code, words } = result;
  const action = nodeAdvice(code, { infection: false, lymphoma: false, tumour: false });
  const risk = NODE_RISK[code];
  if (json) {
    const known = { said, system: 'sydney', code, words, meaning: NODE_MEANINGS[code], crosswalk: null, risk, action };
    out.stdout.write(`${JSON.stringify(known)}\n`);
    return 0;
  }
  const lines = [
    `${code}: ${NODE_MEANINGS[code]} (Sydney 2020, lymph node: no thyroid category)`,
    ...risk.map(({ percent, source }) => `cancer among all with this result: ${percent} % (${source})`),
    `next: ${action.next.replaceAll('-', ' ')}, within ${action.latestDays} days; doctor acknowledges: ${action.acknowledge.replaceAll('-', ' ')}`,
    `source of the action: ${action.source}`,
  ];
  out.stdout.write(`${lines.join('\n')}\n`);
  return 0;
}

type Known = {
  readonly code: string;
  readonly canonical: string;
  readonly meaning: string;
  readonly crosswalk: Crosswalk;
  readonly risk: RiskOfMalignancy;
  readonly children: ManagementInChildren | null;
  readonly action: CategoryAction;
};

function inWords(known: Known): string {
  const { crosswalk: same, risk, action } = known;
  const lines = [
    `${known.code}: ${known.meaning}`,
    `same as (not exactly): ${same.thy.join(' or ')}; Bethesda ${same.bethesda.join(' or ')}; ${same.tir.join(' or ')} (${same.source})`,
  ];
  if (risk.histologyOnly) {
    const [low, high] = risk.histologyOnly.confidence95;
    lines.push(
      `cancer among operated nodules: ${risk.histologyOnly.percent} % (${low}-${high}) (${risk.histologyOnly.source})`,
    );
  }
  if (risk.histologyOnlyDepartment) {
    const { percent, source } = risk.histologyOnlyDepartment;
    lines.push(`cancer among operated nodules of one department: ${percent} % (${source})`);
  }
  if (risk.allCases)
    lines.push(`cancer among all with this result: ${risk.allCases.percent} % (${risk.allCases.source})`);
  if (risk.system) lines.push(`cancer as the system states it: ${systemRiskInWords(risk.system)}`);
  if (risk.systemChildren) lines.push(`in children: ${systemRiskInWords(risk.systemChildren)}`);
  if (known.children) lines.push(`management in children: ${known.children.management} (${known.children.source})`);
  lines.push(
    `next: ${action.next.replaceAll('-', ' ')}, ${deadlineInWords(action)}`,
    `specialists' meeting: ${action.mdt.replaceAll('-', ' ')}; doctor acknowledges: ${action.doctorAcknowledges ? action.acknowledge.replaceAll('-', ' ') : 'only if it contradicts the findings'}${action.secondChannel ? '; phone or visit as well as text' : ''}`,
    `source of the action: ${action.source}`,
  );
  return `${lines.join('\n')}\n`;
}

function systemRiskInWords(risk: SystemRisk): string {
  const { percent, range, below } = risk;
  const band = below === null ? (range?.join('-') ?? '') : `< ${below}`;
  const figure = percent === null ? band : band === '' ? `${percent}` : `${percent} (${band})`;
  return `${figure} % (${risk.source})`;
}

function deadlineInWords({ deadline }: CategoryAction): string {
  const unit = deadline.unit === 'days' ? 'days' : 'working days';
  if (deadline.latest === null) return `not before ${deadline.notBefore} ${unit}`;
  if (deadline.latest === 0) return 'the same day';
  return deadline.notBefore > 0
    ? `after ${deadline.notBefore} to ${deadline.latest} ${unit}`
    : `within ${deadline.latest} ${unit}`;
}
