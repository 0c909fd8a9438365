/** What the process itself uses, under the names that collectors know of every program. */
import { monitorEventLoopDelay } from 'node:perf_hooks';
import type { Family } from './exposition.ts';

/** How finely the delay is measured, ms. */
const resolutionMs = 20;
const nsInSecond = 1e9;

export interface ProcessFigures {
  /** The delay is that since the call before. */
  families(): readonly Family[];
  end(): void;
}

/** Begins to measure; costs some microseconds of a second. */
export function watchProcess(): ProcessFigures {
  const delay = monitorEventLoopDelay({ resolution: resolutionMs });
  delay.enable();
  const startedAt = Date.now() / 1000 - process.uptime();
  const one = (name: string, type: Family['type'], help: string, value: number): Family => ({
    name,
    type,
    help,
    samples: [{ labels: {}, value }],
  });
  return {
    families: () => {
      const { rss, heapUsed } = process.memoryUsage();
      const { user, system } = process.cpuUsage();
      // What is measured holds the pause itself; nothing is measured yet right after the start.
      const secondsAt = (ns: number): number => Math.max(0, ns / nsInSecond - resolutionMs / 1000);
      const quantile = (of: number): number => (delay.count === 0 ? 0 : secondsAt(delay.percentile(of)));
      const samples = [
        { labels: { quantile: '0.5' }, value: quantile(50) },
        { labels: { quantile: '0.99' }, value: quantile(99) },
        { labels: { quantile: '1' }, value: delay.count === 0 ? 0 : secondsAt(delay.max) },
      ];
      delay.reset();
      return [
        one('process_resident_memory_bytes', 'gauge', 'Memory of the process.', rss),
        one('process_cpu_seconds_total', 'counter', 'Processor time of the process.', (user + system) / 1e6),
        one('process_start_time_seconds', 'gauge', 'When the process began, seconds since 1970.', startedAt),
        one('neckline_heap_used_bytes', 'gauge', 'Memory in use inside the process.', heapUsed),
        {
          name: 'neckline_event_loop_delay_seconds',
          type: 'gauge',
          help: 'How late the process is with what it has to do, since it was asked before.',
          samples,
        },
      ];
    },
    end: () => delay.disable(),
  };
}
