import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { GatewayLine, phones } from './gateway-line.ts';
import { hasKannel } from './kannel.ts';

/** What the shipped configuration does with parts is what this is about: nothing of it is changed. */
let line: GatewayLine;

const part = (reference: number, number: number, total: number, text: string): void =>
  line.kannel.sendPart(phones.w, { reference, number, total }, text);

const quick = [
  'NEW AK 1982 F R 22x15x14 solid hypo ',
  'irregular micro TSH normal felt linear ',
  'signs 0 risks 0 bleeding 0',
];

describe.skipIf(!hasKannel)('long texts through the real gateway', () => {
  beforeAll(async () => {
    line = await GatewayLine.open({ 'parts-wait': '12s' });
    await line.says('w', 'JOIN', 'w', /practi/i);
    await line.says('w', '23', 'w', /./);
  }, 60_000);

  afterAll(() => line.close());

  it('an SOS in a part is first aid within seconds, though another part is lost for good and the last one comes late', async () => {
    const { mark } = line;
    const began = Date.now();
    part(11, 2, 3, 'and her neck swells. SOS SOS');
    await line.hears('d', /SOS/, mark);
    // With parts joined by the gateway this took over a minute.
    expect(Date.now() - began).toBeLessThan(10_000);
    await line.hears('w', /press|lie|sit/i, mark);
    const late = line.mark;
    part(11, 3, 3, ' come quickly');
    // Longer than a part is waited for.
    await sleep(13_000);
    expect(line.textsTo('w', late).join()).not.toMatch(/part of your long text/);
    await line.says('w', '4', 'w', /./);
  }, 60_000);

  it('parts in the wrong order are one text, also when the line is killed between two of them', async () => {
    const { mark } = line;
    part(12, 3, 3, quick[2]!);
    part(12, 1, 3, quick[0]!);
    await sleep(1_000);
    expect(line.textsTo('w', mark).filter((text) => /^CHECK/.test(text))).toEqual([]);
    await line.end('SIGKILL');
    part(12, 2, 3, quick[1]!);
    await sleep(1_000);
    await line.start();
    await line.hears('w', /^CHECK AK F 1982/, mark);
  }, 60_000);

  it('a part that stays away is asked for again; what comes of it later is no answer, an SOS in it is one', async () => {
    await line.says('w', 'LIST', 'w', /./);
    const { mark } = line;
    part(13, 1, 2, 'LIST of what is open ');
    await line.hears('w', /part of your long text was lost/, mark);
    const late = line.mark;
    part(13, 2, 2, 'she cannot breathe SOS');
    // The alarm of before is open: the doctors hear of it again when they have been spared for a while.
    await line.hears('w', /needle out/, late);
  }, 60_000);
});
