/** Texts that are plain in both voices: a hand is on a patient, a life is at stake, or somebody reads who is texted in plain. */
import type { FlowSource } from './load.ts';
import { textUses } from './text-index.ts';
import { askedTexts, groupOf, type WordGroup } from './wording/groups.ts';

/** Briefings before gloves and first aid; doctors, laboratories and coordinators have one voice. */
const groups: ReadonlySet<WordGroup> = new Set(['briefing', 'first aid', 'doctor', 'laboratory', 'coordinator']);

/** By name: the checks, the dangers and what stops a needle, slides in pencil, the emergency, what the patient is told, words about the voices. */
const keys: readonly RegExp[] = [
  /^ready\.(?:checks|missing|technique-.*|pulse|pulsates|moves-with-tongue|dangers|breathless-lying|sore-skin|high-pressure)$/u,
  /^ready\.(?:alarm-today|postpone|pencil|other-code|no-needle.*|no-fixative|and-no-fixative|lacking|lies-.*)$/u,
  /^decision\.(?:emergency.*|caution-.*|because-.*)$/u,
  /^(?:labelling|aftercare|sampling|node-look|sos|cry|read-back|locked|voice|menu)\./u,
  /-for-(?:doctor|doctors|coordinator|coordinators|lab)$/u,
];

/** True for a text, `file.key`, that may have no brief one. */
export function alwaysPlain(flows: readonly FlowSource[]): (key: string) => boolean {
  const asked = askedTexts(flows);
  const used = new Set(flows.flatMap(plainUses));
  const isOfOthers = (key: string) => groups.has(groupOf(key, asked)) && !key.endsWith('-for-worker');
  return (key) => used.has(key) || isOfOthers(key) || keys.some((form) => form.test(key));
}

/** Of a flow in an alarm, or with a needle in, everything; of another what is asked in an emergency and what was told or seen. */
function plainUses({ flow }: FlowSource): readonly string[] {
  const uses = textUses(flow);
  if (flow.traits.alarm !== undefined || flow.traits.bedside === 'needle') return uses.map(({ key }) => key);
  const plain = [...flow.states.values()].filter(
    ({ traits }) => traits.alarm !== undefined || traits.ofWhom === 'said',
  );
  const names = new Set<string>(plain.map(({ name }) => name));
  return uses.filter(({ path }) => path[0] === 'states' && names.has(String(path[1]))).map(({ key }) => key);
}
