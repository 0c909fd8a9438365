/** The voice number that the bench shows: of no country (no code begins with 0), so that nobody dials it by mistake. */
import type { Programme, Site } from '../../conversation/programme.ts';

/** Shown where a programme has no number that can be dialled, as long as the longest that a text has room for. */
const voiceNumber = '+000 555 010 000';

/** The programme as the bench speaks for it: a voice number that is a name of the bench (`bench:voice`) is shown as a number. */
export function withShownNumbers(programme: Programme): Programme {
  const shown = <P extends Pick<Site, 'voiceNumber'>>(place: P): P =>
    place.voiceNumber.startsWith('bench:') ? { ...place, voiceNumber } : place;
  return { ...shown(programme), sites: programme.sites.map(shown) };
}
