/** What the people of a batch do more often than others. */
import type { Way } from '../ways.ts';

export interface Habits {
  /** Chance of an SOS at each question beside the needle. */
  readonly alarms: number;
  /** The same while it is in. */
  readonly alarmsAtNeedle: number;
  /** The same once a doctor has allowed a needle after an alarm. */
  readonly alarmsAgain: number;
  /** Weight of SOS among the words that come unasked; 2 is usual. */
  readonly cries: number;
  /** Chance that a colleague takes the case over at such a question. */
  readonly takeOvers: number;
  /** The same while the neck is watched. */
  readonly watchedByAnother: number;
  /** Chance that a patient comes to a colleague as well. */
  readonly comesTwice: number;
  /** Weights of options that are others than usual, by option id. */
  readonly likes: Readonly<Record<string, number>>;
  /** Doctors take days for what can wait. */
  readonly slow: boolean;
  /** Chance that a laboratory confirms with another year than the glass has. */
  readonly wrongYears: number;
  /** Chance that the second jar of a parcel is received days after the first. */
  readonly jarsApart: number;
  /** Chance that glass is of no use. */
  readonly badGlass: number;
  /** Chance of an exit where a question has one. */
  readonly exits: number;
  /** Chance that a word comes in between, while a day or a doctor is waited for. */
  readonly wordsBetween: number;
  /** Chance that somebody else of the site goes on before the day of the needle. */
  readonly goesOn: number;
  /** Chance that NEW comes while a needle is in. */
  readonly newAtNeedle: number;
  /** Chance that a worker says WRONG at a question. */
  readonly calledWrong: number;
  /** Chance that a parcel is called lost while it is on its way. */
  readonly lostParcels: number;
  /** Chance that a laboratory says BAD of glass whose result is filed. */
  readonly badAfterResult: number;
  /** Chance that a worker leaves the line while patients are in hand. */
  readonly leaving: number;
  /** Chance that somebody at a desk ends a case by hand. */
  readonly endings: number;
}

export function habitsOf(way: Way): Habits {
  return {
    alarms: way === 'bedside' ? 0.012 : 0.001,
    alarmsAtNeedle: way === 'bedside' ? 0.08 : 0.002,
    alarmsAgain: way === 'bedside' ? 0.15 : 0.01,
    cries: way === 'nobody' || way === 'bedside' ? 10 : 2,
    takeOvers: way === 'again' ? 0.03 : 0.001,
    watchedByAnother: way === 'again' ? 0.25 : 0.02,
    comesTwice: way === 'again' ? 0.4 : 0.03,
    likes: likesOf(way),
    slow: isSlow(way),
    wrongYears: way === 'office' || way === 'plain' ? 0.3 : 0.03,
    jarsApart: way === 'bedside' || way === 'slow' ? 0.6 : 0.05,
    badGlass: way === 'office' || way === 'slow' ? 0.25 : 0.05,
    exits: way === 'plain' ? 0.012 : 0.003,
    wordsBetween: way === 'plain' || way === 'office' || way === 'bedside' ? 0.1 : 0.005,
    goesOn: way === 'bedside' || way === 'again' ? 0.3 : 0.02,
    newAtNeedle: way === 'again' ? 0.06 : 0.002,
    calledWrong: way === 'plain' || way === 'wet' ? 0.008 : 0.0005,
    lostParcels: way === 'again' || way === 'dried' ? 0.35 : 0.02,
    badAfterResult: way === 'chat' || way === 'plain' ? 0.5 : 0.03,
    leaving: way === 'office' || way === 'again' ? 0.15 : 0.004,
    endings: way === 'chat' || way === 'nobody' ? 0.25 : 0.01,
  };
}

const isSlow = (way: Way): boolean => way === 'slow' || way === 'nodes';

function likesOf(way: Way): Habits['likes'] {
  // What is known of a node on one day is asked for on another.
  if (isSlow(way)) return { 'not-found': 16, 'not-reached': 12, beats: 5, 'other-day': 16 };
  if (way === 'wet') return { 'ask-doctor': 16, 'end-here': 16 };
  // Laid out on one day, and done on another.
  if (way === 'bedside') return { 'not-done': 30, 'other-day': 40 };
  return way === 'policy' ? { watch: 16, 'ask-doctor': 10 } : {};
}
