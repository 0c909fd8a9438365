import { expect, it } from 'vitest';
import { person, SmallLine } from '../support/world.ts';

it('an answer that comes twice before the question of the agreed day is shown is told nothing that is not so', () => {
  const line = new SmallLine(person('w', 'worker'));
  const quick = 'R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0';
  for (const text of [`NEW AK 1982 F ${quick}`, 'OK', '2', '8 MAR']) line.text('w', text);
  expect(line.heard('w').join()).toContain('the needle is noted for 8 MAR');
  const [of] = line.cases.values();
  line.briefs = [{ ...of!, codes: [], dueAt: null }];
  line.now += 3_600_000;
  for (const text of ['NEW AK 1982 F', '1', '1']) line.text('w', text);
  const heard = line.heard('w').join('\n');
  expect(heard).toContain('You go on with this patient');
  expect(heard).not.toContain('there is nothing to answer now');
});
