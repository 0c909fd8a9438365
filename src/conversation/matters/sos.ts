/** SOS: first aid before any question, the doctor at once, an end only by somebody who has read our text. */
import type { Case } from '../../case/case.ts';
import { needleStickAdvice } from '../../clinical/needle-stick.ts';
import { readNumber } from '../answers/number.ts';
import type { Interpreter } from '../interpret.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { durationOf } from '../programme.ts';
import type { Turn } from '../turn.ts';
import { clockText, zoneOf } from './common.ts';

/** Starts the alarm in the thread at hand, or joins the one that is open on this phone. */
function raise(turn: Turn, interpreter: Interpreter): void {
  const person = interpreter.person;
  const open = turn.threads.find((one) => one.frames.some((frame) => frame.flow === 'sos'));
  if (open) {
    turn.say(person, 'sos.first-aid', { frame: open.frames.at(-1) ?? null, caseId: open.caseId, lane: 'sos' });
    turn.notify('doctors', 'sos.again-for-doctor', 'sos', open.caseId, null, {});
    interpreter.raise(open.id);
    interpreter.show(open.id);
    return;
  }
  const networkAt = turn.event.kind === 'text' ? turn.event.networkAt : null;
  const old = networkAt !== null && turn.now - networkAt > durationOf(turn.world.programme, 'sos-old');
  const under = turn.threads.at(-1);
  interpreter.run('sos', {
    vars: old ? { oldAt: networkAt } : {},
    ...(under ? { onThread: under.id, item: under.frames.at(-1)?.item ?? null } : {}),
  });
  if (person.state === 'stopped') return;
  turn.state = { ...turn.state, misses: 0 };
}

function onCase(moment: Moment, act: (of: Case) => Act): readonly Act[] {
  return moment.case ? [act(moment.case)] : [];
}

/** `AK: `, or nothing where no patient is at hand. */
export function leadText(moment: Moment): string {
  const tag = moment.case?.tag ?? '';
  return tag === '' ? '' : `${tag}: `;
}

function stickKey(moment: Moment): string {
  const hours = moment.frame.vars.hours;
  const advice = needleStickAdvice(typeof hours === 'number' ? hours : 'unknown');
  if (advice.hiv === 'now') return 'stick-now';
  if (advice.hiv === 'still-possible') return 'stick-late';
  return advice.hepatitisB === 'benefit-unknown' ? 'stick-old' : 'stick-passed';
}

/** A number that stands for "not known" where any smaller one could be meant. */
const hoursUnknown = 99;

export const sos: Matter = {
  commands: { SOS: { roles: ['worker', 'doctor', 'lab', 'coordinator'], run: raise } },
  decisions: {
    'sos-age': {
      outcomes: ['fresh', 'old'],
      decide: (m) => (typeof m.frame.vars.oldAt === 'number' ? 'old' : 'fresh'),
    },
  },
  recorders: {
    'sos-raised': (m) => onCase(m, () => record({ type: 'sos-raised', sign: 'not-said' })),
    'sos-sign': (m) => [
      ...onCase(m, () => record({ type: 'sos-raised', sign: String(m.answer) })),
      { do: 'vars', vars: { sign: m.answer } },
      { do: 'notify', to: 'doctors', text: 'sos.sign-for-doctor', lane: 'sos', vars: { sign: m.answer } },
    ],
    'sos-worse': (m) => onCase(m, () => record({ type: 'sos-raised', sign: 'worse' })),
    'sos-over': (m) => onCase(m, () => record({ type: 'sos-over', outcome: 'well-again' })),
    'stick-over': (m) => [
      ...onCase(m, () => record({ type: 'sos-over', outcome: 'needle-stick-advised' })),
      { do: 'vars', vars: { hours: m.answer } },
    ],
  },
  readers: {
    hours: (text) => {
      const got = readNumber(text, { min: 0, max: 2000, decimals: 1, units: ['h', 'hours', 'hour'] });
      if (!got.ok) return got;
      return { ok: true, value: { value: got.value === hoursUnknown ? 'unknown' : got.value } };
    },
  },
  values: {
    lead: { of: leadText, sample: 'AK: ' },
    sosTime: {
      of: (m) => {
        const at = m.frame.vars.oldAt;
        return typeof at === 'number' ? clockText(at, zoneOf(m)) : '';
      },
      sample: '10:42',
    },
    recheckTime: {
      of: (m) => clockText(m.now + durationOf(m.world.programme, 'sos-recheck-later'), zoneOf(m)),
      sample: '10:57',
    },
    sosSigns: {
      of: (m) => {
        const sign = m.case?.sos?.sign ?? '';
        return sign === '' || sign === 'not-said' || sign === 'worse'
          ? ''
          : `${m.world.texts.label(m.person.locale, 'sos-sign', sign)}.`;
      },
      sample: 'bleeding, swelling.',
    },
    sign: {
      of: (m) => m.world.texts.label(m.person.locale, 'sos-sign', String(m.frame.vars.sign ?? '')),
      sample: 'bleeding, swelling',
    },
    stickAdvice: {
      of: (m) => {
        const lead = leadText(m);
        return m.world.texts.render(m.person.locale, `sos.${stickKey(m)}`, (name) => (name === 'lead' ? lead : ''));
      },
      sample:
        'HIV tablets: start NOW, best within 24 h. Hepatitis B: vaccine state + globulin within 24 h. Blood tests of both. Go now',
    },
  },
};
