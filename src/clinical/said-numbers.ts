import { FAINT_BETTER_MINUTES, HICCUP_HOURS, LOOK_EVERY_MINUTES } from './adverse-events.ts';
import { HIGH_PRESSURE, REST_MINUTES } from './before-needle.ts';
import { CALCITONIN_RINSE_ML } from './calcitonin-rinse.ts';
import { goodProbeFromMhz } from './cautions.ts';
import { clotting, ivAntiplateletHoursLeast } from './clotting.ts';
import { partingMm } from './doubts.ts';
import { DRIED_SLIDES_USABLE_HOURS, FIX_WITHIN_SECONDS } from './fixation.ts';
import { SPRAY } from './fixation-routes.ts';
import { adultFromYears, pregnancyTshSettledAfterWeeks } from './gates.ts';
import { NEEDLE_GAUGE } from './gauge.ts';
import { HEPATITIS_B_HOURS, HIV_PROPHYLAXIS_HOURS } from './needle-stick.ts';
import { POT_CELSIUS, POT_HOURS, POT_SALINE_ML, SALINE_PERCENT } from './node-sampling.ts';
import { ASKED_OVER_MM, diameterGrowth } from './nodule.ts';
import { PRESS_LONG_MINUTES, PRESS_MINUTES, WATCH_LOOK_MINUTES } from './observation.ts';
import { solidSampleOverMm } from './policies/common-practice.ts';
import { TILT_FROM_WEEKS } from './position.ts';
import { AIR_ML, SLIDES_PER_ATTEMPT, STROKE_SECONDS } from './sampling.ts';
import { AT_HAND } from './supplies.ts';

const span = (least: number, most: number): string => (least === most ? `${least}` : `${least}-${most}`);

/**
 * Every clinical number that people are told, by the placeholder under which texts name it. It is the same for everybody,
 * so it stands in a text from the load on, wherever the text is shown.
 */
export const saidNumbers: Readonly<Record<string, string>> = {
  adultYears: String(adultFromYears),
  tshSettledWeeks: String(pregnancyTshSettledAfterWeeks),
  inrMost: String(clotting.inrMost),
  plateletsLeast: String(clotting.plateletsLeast),
  plateletsSafe: String(clotting.plateletsSafe),
  dripWaitHours: String(ivAntiplateletHoursLeast),
  askedOverMm: String(ASKED_OVER_MM),
  partingMm: String(partingMm.at),
  solidOverMm: String(solidSampleOverMm),
  growthPercent: String(diameterGrowth.percent),
  growthMm: String(diameterGrowth.mm),
  probeMhz: String(goodProbeFromMhz),
  pressureLimit: `${HIGH_PRESSURE.systolic}/${HIGH_PRESSURE.diastolic}`,
  tiltWeeks: String(TILT_FROM_WEEKS),
  restMinutes: String(REST_MINUTES),
  rinseMl: span(CALCITONIN_RINSE_ML.least, CALCITONIN_RINSE_ML.most),
  needlesFine: span(NEEDLE_GAUGE.preferred.thickest, NEEDLE_GAUGE.preferred.thinnest),
  needlesUsable: span(NEEDLE_GAUGE.noted, NEEDLE_GAUGE.preferred.thinnest),
  needleNoted: String(NEEDLE_GAUGE.noted),
  needleRefused: String(NEEDLE_GAUGE.refusedFrom),
  needlesEnough: String(AT_HAND.fineNeedles),
  slidesEnough: String(AT_HAND.manySlides),
  slidesOfTry: String(SLIDES_PER_ATTEMPT),
  potMl: String(POT_SALINE_ML),
  potHours: String(POT_HOURS),
  potCold: span(POT_CELSIUS.least, POT_CELSIUS.most),
  salinePercent: String(SALINE_PERCENT),
  airMl: span(AIR_ML.least, AIR_ML.most),
  strokeSeconds: span(STROKE_SECONDS.least, STROKE_SECONDS.most),
  fixSeconds: String(FIX_WITHIN_SECONDS),
  sprayCm: String(SPRAY.leastDistanceCm),
  spraySeconds: span(SPRAY.leastSeconds, SPRAY.mostSeconds),
  driedHours: String(DRIED_SLIDES_USABLE_HOURS),
  pressMinutes: span(PRESS_MINUTES.least, PRESS_MINUTES.most),
  pressLongMinutes: span(PRESS_LONG_MINUTES.least, PRESS_LONG_MINUTES.most),
  watchLookMinutes: String(WATCH_LOOK_MINUTES),
  faintMinutes: String(FAINT_BETTER_MINUTES),
  hiccupHours: String(HICCUP_HOURS),
  lookMinutes: String(LOOK_EVERY_MINUTES),
  pepBestHours: String(HIV_PROPHYLAXIS_HOURS.best),
  pepLastHours: String(HIV_PROPHYLAXIS_HOURS.last),
  hepatitisBestHours: String(HEPATITIS_B_HOURS.best),
  hepatitisDays: String(HEPATITIS_B_HOURS.last / 24),
};
