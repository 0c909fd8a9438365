/** What others do in the middle of somebody's play: what their phone could send at any moment, sensible or not. */
import type { Role } from '../../src/case/roles.ts';
import type { PlayedMessage } from '../../src/cli/player.ts';
import type { Chance } from '../simulation/chance.ts';

/** What a phone shows, as far as a hasty reader takes it in. */
interface Screen {
  /** The newest texts, as one. */
  text: string;
  /** Replies that the last question takes. */
  replies: readonly string[];
}

const remembered = 700;

const ofWorkers = 'STOP START SOS LIST WRONG B END REFUSES GONE SEEN LATER NOTDONE WELL W ?'.split(' ');
const withCode = ['CASE', 'TAKE', 'POST', 'NOPARCEL', 'NEW', 'WRONG'] as const;
const results = ['Thy1', 'Thy2', 'Thy3a', 'Thy4', 'Thy5', 'L2', 'L5'] as const;
const waits = ['1m', '10m', '31m', '1h', '5h', '1d', '3d'] as const;

export class Others {
  private readonly chance: Chance;
  private readonly roles = new Map<string, Role>();
  private readonly screens = new Map<string, Screen>();
  private code = '';
  private tag = '';

  constructor(chance: Chance) {
    this.chance = chance;
  }

  /** Somebody of the roster. */
  know(name: string, role: Role): void {
    this.roles.set(name, role);
    this.screens.set(name, { text: '', replies: [] });
  }

  hear({ phone, dir, text, ask }: PlayedMessage): void {
    const screen = this.screens.get(phone);
    if (dir === 'in' || !screen) return;
    screen.text = `${screen.text}\n${text}`.slice(-remembered);
    if (ask) screen.replies = ask.options.map(({ reply }) => reply);
    const code = /\b(\d{4}) (\d{4})\b/u.exec(text);
    if (code) this.code = `${code[1]}${code[2]}`;
    this.tag = /^([A-Z]{2,3}\d*): /u.exec(text)?.[1] ?? this.tag;
  }

  /** A line of a play: a text of anybody, or some time that goes by. */
  line(): string {
    const { chance } = this;
    if (chance.happens(0.12)) return `wait ${chance.pick(waits)}`;
    const name = chance.pick([...this.roles.keys()]);
    return `${name}> ${this.text(name)}`;
  }

  private text(name: string): string {
    const { chance } = this;
    const role = this.roles.get(name)!;
    const { text, replies } = this.screens.get(name)!;
    const proof = [...text.matchAll(/(YES|send) (\d{4})\b/gu)].at(-1);
    if (proof && chance.happens(0.35)) return proof[1] === 'YES' ? `YES ${proof[2]} 1982` : proof[2]!;
    if (replies.length > 0 && chance.happens(0.35)) return chance.pick(replies);
    const { code, tag } = this;
    switch (role) {
      case 'lab':
        return chance.pick([
          `GOT ${code} ${chance.pick([1, 2, 4, 22])}`,
          `BAD ${code} ${1 + chance.below(5)}`,
          `BAD ${code}`,
          `${code} ${chance.pick(results)}`,
          `NOPARCEL ${code}`,
          ...['NO', '6', '7', 'LIST'],
        ]);
      case 'doctor': {
        const question = [...text.matchAll(/\bQ(\d\d)\b/gu)].at(-1)?.[1] ?? '11';
        const said = chance.pick(['1', '2', '3', '4', 'wait for me', 'DONE', 'NOT ME']);
        return chance.pick([`${question} ${said}`, `${question} ${said}`, 'WRONG', 'OFF', 'ON', `END ${code}`]);
      }
      case 'coordinator': {
        const [one, other] = [this.anybody(), this.anybody()];
        const staff = [`FRESH ${one}`, `SUSPEND ${one}`, `RESTORE ${one}`, `HANDOVER ${one} ${other}`];
        return chance.pick([...staff, `END ${code}`, `CASE ${code}`, 'LIST']);
      }
      default:
        return chance.pick([
          ...ofWorkers,
          ...withCode.map((word) => `${word} ${code}`),
          ...['SEEN', 'END', 'GONE'].map((word) => `${tag} ${word}`),
          'DOCTOR what now?',
        ]);
    }
  }

  private anybody(): string {
    return this.chance.pick([...this.roles.keys()]);
  }
}
