import { describe, expect, it } from 'vitest';
import { drawFrom } from '../../src/conversation/random.ts';
import { person, SmallLine } from '../support/world.ts';

const runs = 900;
const triesEach = 12;

/** One forger who sends a dozen random tags to a question of one doctor, as long as tags are just then. */
function forgerWins(seed: number): boolean {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('c', 'coordinator'));
  const bytes = new Uint8Array(16).fill(seed & 255);
  bytes[0] = seed >> 8;
  const draw = drawFrom(bytes);
  line.text('w', 'DOCTOR May I go on?');
  line.settle();
  for (let tries = 0; tries < triesEach; tries += 1) {
    const question = [...line.questions.values()][0]!;
    line.text('d', `${draw.digits(question.tag.length)} go on`);
    line.settle();
    if ([...line.questions.values()][0]!.answeredAt !== null) return true;
  }
  return false;
}

describe('the chance of somebody who writes as a doctor and tries tags', () => {
  it('is three in ninety for a day, as measured over many forgers, not one in eight as if tags stayed short', () => {
    const won = Array.from({ length: runs }, (_, seed) => forgerWins(seed + 1)).filter(Boolean).length;
    // 3/90 = 0.033; three standard deviations at this many runs are 0.018.
    expect(won / runs).toBeGreaterThan(0.01);
    expect(won / runs).toBeLessThan(3 / 90 + 0.018);
  });
});
