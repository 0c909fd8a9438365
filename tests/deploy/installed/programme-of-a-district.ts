import { readFileSync } from 'node:fs';

const root = new URL('../../../', import.meta.url);

/** A programme as a district would have it: the package's, without a name that is invented there. */
export function programmeOfADistrict(): string {
  const sample = readFileSync(new URL('flows/programme.yaml', root), 'utf8');
  return [
    ['id: tamboro', 'id: lower-tamboro'],
    ['name: Tamboro thyroid line', 'name: Lower Tamboro thyroid line'],
    ['"bench:voice"', '"+000555010090"'],
    ['hospital: Tamboro Hospital', 'hospital: Lower Tamboro Hospital'],
    ['night: Tamboro Hospital', 'night: Lower Tamboro Hospital'],
    ['name: ORUMA CLINIC', 'name: ORUMA WEST'],
    ['name: KESU CLINIC', 'name: KESU WEST'],
    ['name: Lab Velin', 'name: Lab Velin West'],
    ['name: Lab Mora', 'name: Lab Mora West'],
    ['address: Box 7,', 'address: Box 17,'],
    ['address: Box 12,', 'address: Box 22,'],
  ].reduce((text, [of, own]) => {
    if (!text.includes(of!)) throw new Error(`the package's programme has no ${of}`);
    return text.replace(of!, own!);
  }, sample);
}

export const rosterOfADistrict = [
  'name,roles,channel,address,site,locale',
  'Ada Lumo,worker,sms,+000555010001,oruma,en',
  'Beno Sarr,worker,sms,+000555010005,kesu,en',
  'Dr Tano,doctor,sms,+000555010002,oruma,en',
  'Dr Imre,doctor,sms,+000555010006,oruma,en',
  'Lio Marek,lab,sms,+000555010003,velin,en',
  'Nia Dorn,lab,sms,+000555010007,mora,en',
  'Sela Rune,coordinator,sms,+000555010004,oruma,en',
  '',
].join('\n');

/** The explained example with what an operator fills in. Each value replaces an empty one or is put in the place of its own. */
export function filledExample(values: Readonly<Record<string, string>>): string {
  const example = readFileSync(new URL('deploy/neckline.env.example', root), 'utf8');
  return Object.entries(values).reduce((text, [name, value]) => {
    const place = new RegExp(`^${name}=.*$`, 'm');
    if (!place.test(text)) throw new Error(`the example has no ${name}`);
    return text.replace(place, `${name}=${value}`);
  }, example);
}
