import { expect, it } from 'vitest';
import { person, SmallLine } from '../support/world.ts';

it('an answer from the needle that crosses the end of its case is written nowhere, and who sent it hears of the end', () => {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'));
  const said = (from: string, text: string): string => {
    line.text(from, text);
    line.settle();
    return line.heard(from).join('\n');
  };
  const quick = 'R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0';
  for (const text of [`NEW AK 1982 F ${quick}`, 'OK', '1', '1357H', 'ALL']) said('w', text);
  const code = /CODE (\d{4} \d{4})/.exec(said('w', '50'))![1]!;
  said('w', code);
  expect(said('w', '12')).toContain('21 cells');
  // So long after the last word no needle is in any more.
  line.now += 7_200_000;
  const [, tag] = /reply (\d+) and: 1 close/.exec(said('d', `END ${code} moved away`))!;
  line.text('d', `${tag} 1`);
  // The case is closed, and what tells the clinic so is not handled yet.
  for (;;) {
    const at = line.dues.findIndex(
      ({ dueAt, what }) => dueAt <= line.now && !('flow' in what && what.flow === 'ended'),
    );
    if (at < 0) break;
    const [due] = line.dues.splice(at, 1);
    line.due(due!.personId, due!.what, due!.caseId);
  }
  line.text('w', '23');
  const [of] = line.cases.values();
  expect(of).toMatchObject({ closed: 'ended-by-hand', specimens: [{ attempts: ['blood'] }] });
  line.settle();
  expect(line.heard('w').join('\n')).toContain('AK: ENDED by d: "moved away"');
});
