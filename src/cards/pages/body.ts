/** Cards 6 and 7: first aid, and how the patient lies. */
import type { Block } from '../blocks.ts';
import { flatOnBack, halfSitting, leftSide, legsUp, pressSittingUp, sitAndGo, tilted } from '../drawings/people.ts';
import { panelBody } from '../panels.ts';
import type { Told } from '../told.ts';

export function firstAidCard(told: Told): Block | null {
  const { voice } = told.place;
  const call = voice === null ? told.say('aid-numbers') : told.say('aid-call', { voice });
  return panelBody(told, {
    columns: 2,
    panels: [
      { key: 'faint', drawing: legsUp, headed: true },
      { key: 'faint-pregnant', drawing: leftSide, headed: true },
      { key: 'bleeding', drawing: pressSittingUp, headed: true },
      { key: 'breathing', drawing: sitAndGo, headed: true },
    ],
    above: [`${told.say('aid-first')} ${call}`],
    heavy: true,
    highest: 52,
    below: [told.say('needle-stick')],
  });
}

export function positionCard(told: Told): Block | null {
  return panelBody(told, {
    columns: 2,
    panels: [
      { key: 'lies-flat', drawing: flatOnBack },
      { key: 'lies-half', drawing: halfSitting },
      { key: 'lies-tilted', drawing: tilted },
      { key: 'lies-left', drawing: leftSide },
    ],
    above: [told.say('lies-still')],
    below: [told.say('lies-breathless')],
  });
}
