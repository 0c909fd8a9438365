/** People finish on the structure they began: every structure that was ever served is kept and served on. */
import { flowFromJson, flowToJson } from '../content/flow-json.ts';
import { flowSet } from '../content/load.ts';
import type { Content } from '../conversation/content.ts';
import type { Flow } from '../conversation/flow.ts';
import type { Log, Store } from '../line/ports.ts';

/**
 * Saves today's structures and adds the older ones to the content. A structure that cannot be read any more is logged:
 * whoever walks it gets the newest one's help and the always open words.
 */
export async function withOlderFlows<C extends Content>(content: C, store: Store, log: Log, at: number): Promise<C> {
  const newest = [...content.flows.newest.values()];
  const saved = await store.savedFlows();
  for (const flow of newest) {
    // Traits are not in the hash: those of today are what this structure is to have once it is an older one.
    const json = flowToJson(flow);
    if (!saved.some((one) => one.hash === flow.hash && one.json === json))
      await store.saveFlow(flow.hash, flow.name, json, at);
  }
  const older: Flow[] = [];
  for (const { hash, json } of saved) {
    if (newest.some((flow) => flow.hash === hash)) continue;
    try {
      older.push(flowFromJson(json));
    } catch {
      log.write('error', 'flow-version-unreadable', { code: hash });
    }
  }
  return { ...content, flows: flowSet(newest, older) };
}
