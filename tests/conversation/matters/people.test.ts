import { describe, expect, it } from 'vitest';
import { person, SmallLine } from '../../support/world.ts';

const hourMs = 3_600_000;
const newNumber = '+000555010042';

const caseOf = (line: SmallLine) => [...line.cases.values()][0]!;

/** A coordinator who has invited somebody. */
function invited(): { line: SmallLine; id: string; number: string } {
  const line = new SmallLine(person('c', 'coordinator'), person('d', 'doctor'));
  line.text('c', `ADD worker ${newNumber} oruma Nia Bok`);
  line.text('c', /send (\d{4})/.exec(line.heard('c').join())![1]!);
  line.settle();
  return { line, id: line.invitation!.personId, number: line.invitation!.number };
}

describe('adding somebody', () => {
  it.each(['doctor', 'lab', 'coordinator', 'Doctor'])('a %s takes two people or the command line', (role) => {
    const line = new SmallLine(person('c', 'coordinator'));
    line.text('c', `ADD ${role} ${newNumber} oruma Nia Bok`);
    expect(line.heard('c').join()).toContain('takes two people or the command line');
    expect(line.invitation).toBeNull();
  });

  it.each([
    ['no name', `worker ${newNumber} oruma`],
    ['an unknown site', `worker ${newNumber} nowhere Nia Bok`],
    ['no number', 'worker oruma Nia Bok'],
    ['a role that is none', `nurse ${newNumber} oruma Nia Bok`],
  ])('with %s is answered by an example', (_, rest) => {
    const line = new SmallLine(person('c', 'coordinator'));
    line.text('c', `ADD ${rest}`);
    expect(line.heard('c').join()).toContain('Send ADD worker, the phone number, the site and the name');
  });

  it.each(['Stop Nia', 'List', 'Nia 2', 'Nia wrote. Reply now', 'Nia STOP'])(
    'of the name %s is refused: it reads like the line',
    (name) => {
      const line = new SmallLine(person('c', 'coordinator'));
      line.text('c', `ADD worker ${newNumber} oruma ${name}`);
      expect(line.heard('c').join()).toContain('That name reads like a word of this line, a number or a sentence');
    },
  );

  it.each(['YES', 'right', '1', '00'])('is not confirmed by %s, only by the digits shown', (reply) => {
    const line = new SmallLine(person('c', 'coordinator'));
    line.text('c', `ADD worker ${newNumber} oruma Nia Bok`);
    line.text('c', reply);
    expect(line.invitation).toBeNull();
  });

  it('is a word for coordinators only', () => {
    const line = new SmallLine(person('w', 'worker'));
    line.text('w', `ADD worker ${newNumber} oruma Nia Bok`);
    expect(line.heard('w').join()).toContain('ADD is not a word for you here');
  });

  it('sends the join number to the phone added and to nobody else', () => {
    const { line, id, number } = invited();
    expect(line.heard(id).join()).toContain(`JOIN ${number}`);
    expect(line.heard('c').join()).not.toContain(number);
  });
});

describe('a join number', () => {
  it.each([
    ['after 71 h', 71, true],
    ['after 73 h', 73, false],
  ])('%s lets in: %s', (_, hours, joins) => {
    const { line, id, number } = invited();
    line.now += Number(hours) * hourMs;
    line.text(id, `JOIN ${number}`);
    expect(line.roster.find((one) => one.id === id)?.state).toBe(joins ? 'joined' : 'invited');
  });

  it('counts once, whole, in two groups or with words around it', () => {
    for (const shape of [
      (n: string) => n,
      (n: string) => `join ${n.slice(0, 3)} ${n.slice(3)}`,
      (n: string) => `here: ${n}.`,
    ]) {
      const { line, id, number } = invited();
      line.text(id, shape(number));
      expect(line.roster.find((one) => one.id === id)?.state).toBe('joined');
      expect(line.invitation?.used).toBe(true);
    }
  });

  it('made anew keeps the person and voids the former number', () => {
    const { line, id, number } = invited();
    line.text('c', `ADD worker ${newNumber} kesu Nia Bok`);
    line.text('c', /send (\d{4})/.exec(line.heard('c').join())![1]!);
    expect(line.invitation).toMatchObject({ personId: id, used: false, wrongTries: 0 });
    line.text(id, `JOIN ${number}`);
    expect(line.roster.find((one) => one.id === id)?.state).toBe('invited');
    line.text(id, `JOIN ${line.invitation!.number}`);
    expect(line.roster.find((one) => one.id === id)).toMatchObject({ state: 'joined', siteId: 'kesu' });
  });
});

describe('STOP', () => {
  it('of a laboratory hands nothing of a case to a worker', () => {
    const line = new SmallLine(person('w', 'worker', { siteId: 'velin' }), person('ll', 'lab'), person('d', 'doctor'));
    line.text('w', 'NEW');
    line.text('w', 'AK 1982 F');
    const of = caseOf(line);
    line.due('ll', { kind: 'run', flow: 'ask', caseId: of.id, item: null, vars: {} }, of.id);
    const result = line.text('ll', 'STOP');
    expect(result.due.filter((one) => one.what.kind === 'receive')).toEqual([]);
    expect(caseOf(line).ownerId).toBe('w');
  });

  it('of a worker passes what is theirs, and only that, to a colleague of the site', () => {
    const line = new SmallLine(
      person('w', 'worker'),
      person('vv', 'worker'),
      person('kkk', 'worker', { siteId: 'kesu' }),
    );
    line.text('w', 'NEW');
    line.text('w', 'AK 1982 F');
    line.text('w', 'STOP');
    line.settle();
    expect(caseOf(line).ownerId).toBe('vv');
    expect(line.heard('vv').join()).toContain('AK: breathing. 1 noisy');
    expect(line.heard('kkk')).toEqual([]);
  });
});

describe('WRONG', () => {
  it('twice freezes once and asks once; kept frozen, it asks again', () => {
    const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'));
    line.text('w', 'NEW');
    line.text('w', 'AK 1982 F');
    line.text('w', 'WRONG');
    line.text('w', 'YES');
    line.text('w', 'WRONG');
    const asked = () => [...line.questions.values()].filter((one) => one.about === 'wrong');
    expect(asked()).toHaveLength(1);
    line.settle();
    line.text('d', `${asked()[0]!.tag} 2`);
    expect(caseOf(line).frozen).not.toBeNull();
    line.text('w', 'WRONG');
    expect(asked()).toHaveLength(2);
  });

  it('of a doctor about words without a case reaches whoever asked', () => {
    const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'));
    line.text('w', 'DOCTOR may I use old slides');
    line.settle();
    const first = [...line.questions.values()][0]!;
    line.text('d', `${first.tag} yes`);
    line.settle();
    line.heard('w');
    line.text('d', 'WRONG');
    line.settle();
    expect(line.heard('w').join()).toContain('STOP: do nothing more');
    const again = [...line.questions.values()].find((one) => one.answeredAt === null)!;
    line.text('d', `${again.tag} never`);
    line.settle();
    expect(line.heard('w').join()).toContain('d answers: "never"');
  });
});
