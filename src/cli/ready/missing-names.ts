/** Names and numbers of the programme: still invented, empty, or such that nobody can be called. */
import type { Programme, Site } from '../../conversation/programme.ts';
import type { Facts, Missing } from './missing.ts';

/** A number that can be typed into a phone. */
const dialled = /^\+?[\d ]{3,20}$/;
/** No country has a code that begins with 0, and 999 is given to none: numbers of examples. */
const ofNoCountry = /^\+(0|999)/;

/** True: nobody can be reached at this number. */
export function isOfNoCountry(number: string): boolean {
  return ofNoCountry.test(number.replaceAll(' ', ''));
}

/** What of the programme's names and places is missing. */
export function missingNames({ programme, invented, ownProgramme }: Facts): readonly Missing[] {
  return [...placeFaults(programme), ...(ownProgramme ? inventedNames(programme, invented) : [inventedProgramme])];
}

const inventedProgramme: Missing = {
  id: 'invented-programme',
  what: 'The programme is the invented one of the package.',
  mend: 'Write your own (neckline setup, or a copy of flows/programme.yaml) and name it in NECKLINE_PROGRAMME.',
  holdsUp: 'start',
};

type Place = Pick<Site, 'hospital' | 'night' | 'voiceNumber'>;

/** Whom to call when the line cannot help, and where to go: an emergency is sent there, in a trial too. */
function placeFaults(programme: Programme): readonly Missing[] {
  return [programme, ...programme.sites].flatMap((place) => {
    const isSite = place !== programme;
    // A site without a place of its own has the programme's, of which it is said once.
    const own = (name: keyof Place): boolean => !isSite || place[name] !== programme[name];
    const [where, at] = isSite ? [`The clinic ${place.id}`, `.${place.id}`] : ['The programme', ''];
    const key = (name: keyof Place): string => (isSite ? `sites: ${place.id}: ${name}` : name);
    const fault = (name: keyof Place, what: string, mend: string, holdsUp: Missing['holdsUp']): Missing => ({
      id: `${name}${at}`,
      what: `${where} ${what}`,
      mend: `${mend} under ${key(name)} in the programme.`,
      holdsUp,
    });
    const voice = 'Put a phone that somebody answers day and night';
    const found: Missing[] = [];
    if (own('voiceNumber') && !dialled.test(place.voiceNumber))
      found.push(fault('voiceNumber', 'has no voice number that can be dialled.', voice, 'every-start'));
    else if (own('voiceNumber') && isOfNoCountry(place.voiceNumber))
      found.push(
        fault('voiceNumber', 'has the voice number of an example, which no phone reaches.', voice, 'patients'),
      );
    if (own('hospital') && place.hospital.trim() === '')
      found.push(fault('hospital', 'has no hospital to refer to.', 'Put its name', 'every-start'));
    if (own('night') && place.night.trim() === '')
      found.push(fault('night', 'has no place to go at night.', 'Put the door that is open', 'every-start'));
    return found;
  });
}

/** Names of the package's invented programme that were left in one's own. */
function inventedNames(programme: Programme, invented: Programme): readonly Missing[] {
  const places = [invented, ...invented.sites];
  const names = new Set([...places, ...invented.laboratories].map(({ name }) => name));
  const hospitals = new Set(places.map(({ hospital }) => hospital));
  const nights = new Set(places.map(({ night }) => night));
  const addresses = new Set(invented.laboratories.map(({ address }) => address));
  const left: readonly (readonly [id: string, key: string, value: string, known: ReadonlySet<string>])[] = [
    ['name', 'name', programme.name, names],
    ['hospital', 'hospital', programme.hospital, hospitals],
    ['night', 'night', programme.night, nights],
    ...programme.sites.flatMap(({ id, name, hospital, night }) => {
      const at = `sites: ${id}`;
      return [
        [`name.${id}`, `${at}: name`, name, names],
        ...(hospital === programme.hospital ? [] : [[`hospital.${id}`, `${at}: hospital`, hospital, hospitals]]),
        ...(night === programme.night ? [] : [[`night.${id}`, `${at}: night`, night, nights]]),
      ] as [string, string, string, Set<string>][];
    }),
    // A laboratory that no clinic posts to hurts nobody.
    ...programme.laboratories
      .filter(({ id }) => programme.sites.some(({ labId }) => labId === id))
      .flatMap(
        ({ id, name, address }) =>
          [
            [`name.${id}`, `laboratories: ${id}: name`, name, names],
            [`address.${id}`, `laboratories: ${id}: address`, address, addresses],
          ] as [string, string, string, Set<string>][],
      ),
  ];
  return left
    .filter(([, , value, known]) => known.has(value))
    .map(([id, key, value]) => ({
      id: `invented-${id}`,
      what: `${value} is invented, and stands in the programme under ${key}.`,
      mend: 'Put the real one there.',
      holdsUp: 'start',
    }));
}
