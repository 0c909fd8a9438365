/** Cards 2 to 4: holding, strokes, air, drop, smear and fixing. Beside the pencil grip (common practice, no source) each fact stands in the clinical code. */
import { saidNumbers } from '../../clinical/said-numbers.ts';
import type { Block } from '../blocks.ts';
import { needleAlone, needleBetween, thumbAndFinger, twoFingers } from '../drawings/holding.ts';
import { cover, fromDistance, intoJar, pullApart } from '../drawings/slides.ts';
import { airFirst, dropOnSlide, oneLine, stopAtPlastic } from '../drawings/strokes.ts';
import { panelBody } from '../panels.ts';
import type { Told } from '../told.ts';

export function holdingCard(told: Told): Block | null {
  return panelBody(told, {
    columns: 2,
    panels: [
      { key: 'hold-fingers', drawing: twoFingers },
      { key: 'hold-thumb', drawing: thumbAndFinger },
      { key: 'needle-alone', drawing: needleAlone },
      { key: 'needle-between', drawing: needleBetween },
    ],
    above: [told.say('before-gloves')],
    below: [told.say('hold-probe')],
  });
}

export function strokesCard(told: Told): Block | null {
  return panelBody(told, {
    columns: 2,
    panels: [
      { key: 'one-line', drawing: oneLine },
      { key: 'stop-at-plastic', drawing: stopAtPlastic },
      { key: 'air', drawing: airFirst },
      { key: 'drop', drawing: dropOnSlide },
    ],
    below: [told.say('blood'), told.say('fluid')],
  });
}

export function smearCard(told: Told): Block | null {
  const { fixSeconds, sprayCm } = saidNumbers as { readonly fixSeconds: string; readonly sprayCm: string };
  return panelBody(told, {
    columns: 2,
    panels: [
      { key: 'cover', drawing: cover },
      { key: 'pull-apart', drawing: pullApart },
      { key: 'into-jar', drawing: intoJar({ fixSeconds }) },
      { key: 'spray', drawing: fromDistance({ sprayCm }) },
    ],
    above: [told.say('jar-open')],
    below: [told.say('no-fixative'), told.say('sharps')],
  });
}
