import { emptyBench, openBenchLine } from '../../../src/cli/bench-line.ts';
import type { Settings } from '../../../src/config.ts';
import { shipped } from '../../support/shipped.ts';
import { type ServedBench, serveBench } from './bench-fixture.ts';

/** The bench as `start` opens it. */
export async function openOwn(folder: string): Promise<ServedBench> {
  const settings = { NECKLINE_DATA: folder } as Settings;
  const setting = {
    given: { stderr: { write: () => true } },
    settings,
    content: shipped,
    log: { write: () => undefined },
  };
  let running = await openBenchLine(setting);
  const renew = async () => {
    await running.close();
    emptyBench(settings);
    running = await openBenchLine(setting);
    return running;
  };
  return serveBench(running, { renew, close: () => running.close() });
}
