import { afterEach, describe, expect, it } from 'vitest';
import { checkCode } from '../../src/case/code.ts';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';

const worker = person('w', 'worker', ['sms']);
const lab = { ...person('l', 'lab', ['sms']), siteId: 'velin' };
const dayMs = 86_400_000;

let line: LinkedLine;
afterEach(() => line.close());
const open = async (restoredDaysAgo: number | null): Promise<void> => {
  const restoredAt = restoredDaysAgo === null ? null : Date.UTC(2030, 2, 4, 8) - restoredDaysAgo * dayMs;
  line = await LinkedLine.open([worker, lab, person('d', 'doctor', ['sms'])], { restoredAt });
};

describe('the code of a patient', () => {
  it.each([
    ['eight digits', null, 8],
    ['ten for a month after a restore: shorter ones that nobody remembers are about', 1, 10],
    ['eight again after that', 31, 8],
  ])('has %s', async (_what, restoredDaysAgo, digits) => {
    await open(restoredDaysAgo);
    const code = await line.coded(worker);
    expect(code).toHaveLength(digits);
    expect(checkCode(code).ok).toBe(true);
  });

  it('with ten digits goes all the way: glass, post, laboratory, result', async () => {
    await open(1);
    const code = await line.fixed(worker);
    expect(line.heardBy('w')).toContain(`${code.slice(0, 4)} ${code.slice(4, 8)} ${code.slice(8)}\nNAME`);
    await line.says(worker, '1', '7');
    await line.later(21);
    await line.says(worker, '1');
    await line.later(15);
    await line.says(worker, '3', '5', `POST ${code}`);
    await line.says(lab, `GOT ${code} 4`, `${code} Thy2`);
    const challenge = /YES (\d{4}) and the birth year/.exec(line.heardBy('l'))![1];
    await line.says(lab, `YES ${challenge} 1982`);
    expect(line.heardBy('l')).toMatch(/FILED .* Thy2/);
    expect(line.heardBy('w')).toMatch(/RESULT/);
  });
});

describe('a programme that has issued very many codes', () => {
  it('counts them, those of erased patients too', async () => {
    await open(null);
    expect(await line.store.codesIssued('tamboro')).toBe(0);
    await line.coded(worker);
    // The count is taken anew now and then.
    for (let asked = 0; asked < 600; asked += 1) await line.store.codesIssued('tamboro');
    expect(await line.store.codesIssued('tamboro')).toBe(1);
  });
});
