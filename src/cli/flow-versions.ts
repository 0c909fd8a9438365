/** People finish on the structure they began: every structure that was ever served is kept, and served on while it fits. */
import { thoseThatFit } from '../content/check-older.ts';
import type { CheckRegistry } from '../content/check-registry.ts';
import { flowFromJson, flowToJson } from '../content/flow-json.ts';
import { type Content, flowSet } from '../content/load.ts';
import type { Flow } from '../conversation/flow.ts';
import type { Log, Store } from '../line/ports.ts';

/**
 * Saves today's structures and adds the older ones to the content. A structure that cannot be read, that the programme
 * withdrew, or that today's texts and named pieces do not fit is logged and not served: whoever walks it is moved to
 * today's (`conversation/move-on.ts`).
 */
export async function withOlderFlows<C extends Content>(
  content: C,
  names: CheckRegistry,
  store: Store,
  log: Log,
  at: number,
): Promise<C> {
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
  const allowed = older.filter((flow) => !content.withdrawn.includes(flow.hash));
  const fitting = thoseThatFit(allowed, content, names);
  const served = new Set(fitting.map((flow) => flow.hash));
  for (const flow of older) {
    if (!served.has(flow.hash)) log.write('warn', 'flow-version-not-served', { code: flow.hash });
  }
  return { ...content, flows: flowSet(newest, fitting) };
}
