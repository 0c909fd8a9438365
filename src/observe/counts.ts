/** Counts in memory what passes, from the start of the process on; a collector adds up what a restart begins anew. */
import type { Meter } from '../line/ports.ts';
import type { Family, Sample } from './exposition.ts';

/** Upper ends of the classes of time in which a text is handled, s. Our convention. */
const classes = [0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10] as const;

/** Sums by labels. */
class Sums {
  private readonly of = new Map<string, { readonly labels: Readonly<Record<string, string>>; value: number }>();

  add(labels: Readonly<Record<string, string>>, value: number): void {
    const key = JSON.stringify(Object.values(labels));
    const sum = this.of.get(key);
    if (sum) sum.value += value;
    else this.of.set(key, { labels, value });
  }

  get samples(): readonly Sample[] {
    return [...this.of.values()].map(({ labels, value }) => ({ labels, value }));
  }
}

export class Counts implements Meter {
  private readonly in = new Sums();
  private readonly out = new Sums();
  private readonly segments = new Sums();
  private readonly reports = new Sums();
  /** Texts in each class, the last for all that took longer. */
  private readonly tookIn: number[] = [...classes.map(() => 0), 0];
  private tookSeconds = 0;

  heard: Meter['heard'] = (link, outcome, ms) => {
    this.in.add({ link, outcome }, 1);
    // Nothing of it had to be done again.
    if (outcome === 'duplicate') return;
    const seconds = Math.max(0, ms) / 1000;
    const place = classes.findIndex((end) => seconds <= end);
    this.tookIn[place === -1 ? classes.length : place]! += 1;
    this.tookSeconds += seconds;
  };

  sent: Meter['sent'] = (link, lane, outcome, segments) => {
    this.out.add({ link, lane, outcome }, 1);
    if (outcome === 'sent') this.segments.add({ link, lane }, segments);
  };

  reported: Meter['reported'] = (link, status) => {
    this.reports.add({ link, status }, 1);
  };

  get families(): readonly Family[] {
    const counter = (name: string, help: string, { samples }: Sums): Family => ({
      name,
      type: 'counter',
      help,
      samples,
    });
    return [
      counter('neckline_texts_in_total', 'Texts and taps that came in, by link and what became of them.', this.in),
      counter('neckline_texts_out_total', 'Texts that a link was asked to carry, by its answer.', this.out),
      counter('neckline_segments_out_total', 'Segments of the texts that a link took.', this.segments),
      counter('neckline_reports_total', 'What networks reported of texts.', this.reports),
      {
        name: 'neckline_handling_seconds',
        type: 'histogram',
        help: 'From a text coming in until it is stored and may be answered for.',
        samples: this.handling,
      },
    ];
  }

  private get handling(): readonly Sample[] {
    let count = 0;
    const buckets = this.tookIn.map((texts, place): Sample => {
      count += texts;
      const end = classes[place];
      return { suffix: '_bucket', labels: { le: end === undefined ? '+Inf' : String(end) }, value: count };
    });
    return [
      ...buckets,
      { suffix: '_sum', labels: {}, value: this.tookSeconds },
      { suffix: '_count', labels: {}, value: count },
    ];
  }
}
