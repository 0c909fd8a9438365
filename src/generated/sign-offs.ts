// Written by `npm run sign-offs` from flows/programme.yaml and deploy; a test compares.
/** One thing to sign. The value of a `programme` one is that of the programme in use, and stands nowhere here. */
export type SignOff =
  | { readonly id: string; readonly kind: 'programme'; readonly what: string }
  | { readonly id: string; readonly kind: 'number' | 'hazard'; readonly what: string; readonly value: string };

export const signOffs: readonly SignOff[] = [
  {
    id: 'inr',
    kind: 'programme',
    what: 'How old an INR may be before a needle',
  },
  {
    id: 'laboratories.slides',
    kind: 'programme',
    what: 'Slides a laboratory of the demo programme wants',
  },
  {
    id: 'urgencies.now',
    kind: 'programme',
    what: "Doctors' ladder, now",
  },
  {
    id: 'urgencies.waiting',
    kind: 'programme',
    what: "Doctors' ladder, waiting",
  },
  {
    id: 'urgencies.today',
    kind: 'programme',
    what: "Doctors' ladder, today",
  },
  {
    id: 'urgencies.question',
    kind: 'programme',
    what: "Doctors' ladder, question",
  },
  {
    id: 'urgencies.this-week',
    kind: 'programme',
    what: "Doctors' ladder, this-week",
  },
  {
    id: 'urgencies.routine',
    kind: 'programme',
    what: "Doctors' ladder, routine",
  },
  {
    id: 'durations.watch-short',
    kind: 'programme',
    what: 'Watch without risk',
  },
  {
    id: 'durations.watch-long',
    kind: 'programme',
    what: 'Watch with a risk',
  },
  {
    id: 'durations.neck-answer',
    kind: 'programme',
    what: 'Silence about the neck is asked again, the coordinator phones',
  },
  {
    id: 'durations.neck-alarm',
    kind: 'programme',
    what: 'Silence about the neck is an alarm to the doctor',
  },
  {
    id: 'durations.quiet-at-most',
    kind: 'programme',
    what: 'Other texts wait for gloved hands',
  },
  {
    id: 'durations.going-home-words',
    kind: 'programme',
    what: 'Going-home warning',
  },
  {
    id: 'durations.sos-silence',
    kind: 'programme',
    what: 'SOS, no answer to how the patient is',
  },
  {
    id: 'durations.cry-answer',
    kind: 'programme',
    what: 'Words such as bleeding, unanswered, become an alarm',
  },
  {
    id: 'durations.sos-old',
    kind: 'programme',
    what: 'SOS that is old',
  },
  {
    id: 'durations.dispatch',
    kind: 'programme',
    what: 'Parcel after sampling',
  },
  {
    id: 'durations.receipt',
    kind: 'programme',
    what: 'Receipt is asked for',
  },
  {
    id: 'durations.result-supervisor',
    kind: 'programme',
    what: 'Result, coordinator',
  },
  {
    id: 'durations.result-told',
    kind: 'programme',
    what: 'Day told to the patient',
  },
  {
    id: 'durations.told-again',
    kind: 'programme',
    what: 'Called in, not yet told',
  },
  {
    id: 'durations.told-thy3',
    kind: 'programme',
    what: 'Result that does not fit, brought in',
  },
  {
    id: 'durations.phone-call',
    kind: 'programme',
    what: 'Thy4, Thy5: phone call asked for again',
  },
  {
    id: 'durations.promise',
    kind: 'programme',
    what: 'Promise of a doctor holds',
  },
  {
    id: 'durations.promise-now',
    kind: 'programme',
    what: 'The same in an alarm',
  },
  {
    id: 'durations.promise-waiting',
    kind: 'programme',
    what: 'The same while the patient waits',
  },
  {
    id: 'durations.promise-today',
    kind: 'programme',
    what: 'The same for Thy4, Thy5, urgent referral',
  },
  {
    id: 'durations.not-seen-again',
    kind: 'programme',
    what: 'Not seen, asked again',
  },
  {
    id: 'durations.reach-again',
    kind: 'programme',
    what: 'Patient not found, looked for again',
  },
  {
    id: 'durations.reach-again-pressing',
    kind: 'programme',
    what: 'The same for Thy4, Thy5, urgent referral',
  },
  {
    id: 'durations.reach-apart',
    kind: 'programme',
    what: 'Two tries count as one',
  },
  {
    id: 'durations.duty-findings',
    kind: 'programme',
    what: 'Findings begun and not finished',
  },
  {
    id: 'durations.duty-decision',
    kind: 'programme',
    what: 'Decision owed',
  },
  {
    id: 'durations.duty-readiness',
    kind: 'programme',
    what: 'Sampling decided and not begun',
  },
  {
    id: 'durations.duty-supplies',
    kind: 'programme',
    what: 'Supplies that lack for a needle',
  },
  {
    id: 'durations.duty-sampling',
    kind: 'programme',
    what: 'Gloves on and nothing reported',
  },
  {
    id: 'durations.duty-labelling',
    kind: 'programme',
    what: 'Labels owed',
  },
  {
    id: 'durations.duty-aftercare',
    kind: 'programme',
    what: 'Watch owed',
  },
  {
    id: 'durations.duty-action',
    kind: 'programme',
    what: 'Result not acted on',
  },
  {
    id: 'durations.duty-action-pressing',
    kind: 'programme',
    what: 'Thy4 and Thy5 not acted on',
  },
  {
    id: 'durations.duty-again',
    kind: 'programme',
    what: 'Reminded again',
  },
  {
    id: 'durations.duty-again-soon',
    kind: 'programme',
    what: 'Reminded again, patient present',
  },
  {
    id: 'durations.known-patient',
    kind: 'programme',
    what: "A closed case may be of a new case's patient",
  },
  {
    id: 'durations.doctor-silent',
    kind: 'programme',
    what: 'Doctor silent, patient present',
  },
  {
    id: 'durations.waiting-answer',
    kind: 'programme',
    what: 'Silence about an emergency',
  },
  {
    id: 'limits.passes',
    kind: 'programme',
    what: 'Attempts before the doctor is asked',
  },
  {
    id: 'limits.nodules-weighed',
    kind: 'programme',
    what: 'Nodules weighed',
  },
  {
    id: 'limits.reach-tries',
    kind: 'programme',
    what: 'Tries to reach a patient',
  },
  {
    id: 'numbers.ata-bright-with-a-suspicious-feature-no-row',
    kind: 'number',
    what: 'ATA, bright with a suspicious feature (no row) (Points and sizes of the policies)',
    value: 'sampled from 15 mm, no answer from 10 mm',
  },
  {
    id: 'numbers.clotting-that-lets-a-needle-be',
    kind: 'number',
    what: 'Clotting that lets a needle be (Gates, cautions, several nodules, growth)',
    value: 'INR up to 3; platelets from 20; a site without rescue prefers to refer up to 50 (10^9/L)',
  },
  {
    id: 'numbers.hours-after-a-drip-against-platelets',
    kind: 'number',
    what: 'Hours after a drip against platelets (Gates, cautions, several nodules, growth)',
    value: '24',
  },
  {
    id: 'numbers.hours-for-which-an-inr-on-warfarin-counts',
    kind: 'number',
    what: 'Hours for which an INR on warfarin counts (Gates, cautions, several nodules, growth)',
    value: '72; 24 after a new medicine, an antibiotic or an illness',
  },
  {
    id: 'numbers.blood-pressure-that-rests-first',
    kind: 'number',
    what: 'Blood pressure that rests first (Gates, cautions, several nodules, growth)',
    value: '160 or 100 mmHg',
  },
  {
    id: 'numbers.rest-before-it-is-measured-again',
    kind: 'number',
    what: 'Rest before it is measured again (Gates, cautions, several nodules, growth)',
    value: '15 min',
  },
  {
    id: 'numbers.measured-again-where-the-systems-part',
    kind: 'number',
    what: 'Measured again where the systems part (Gates, cautions, several nodules, growth)',
    value: 'exactly 10 mm, told from 9.9 and 10.1 mm',
  },
  {
    id: 'numbers.nodules-that-are-measured-and-told',
    kind: 'number',
    what: 'Nodules that are measured and told (Gates, cautions, several nodules, growth)',
    value: 'over 5 mm',
  },
  {
    id: 'numbers.smaller-sizes-by-the-patient-s-risk',
    kind: 'number',
    what: "Smaller sizes by the patient's risk (Gates, cautions, several nodules, growth)",
    value: 'PET focus sampled from 10 mm; irradiation or family considered from 5 mm',
  },
  {
    id: 'numbers.age',
    kind: 'number',
    what: 'Age (What is accepted as a finding)',
    value: '0 to 120 years',
  },
  {
    id: 'numbers.weeks-of-pregnancy',
    kind: 'number',
    what: 'Weeks of pregnancy (What is accepted as a finding)',
    value: '0 to 45',
  },
  {
    id: 'numbers.inr',
    kind: 'number',
    what: 'INR (What is accepted as a finding)',
    value: '0.5 to 20',
  },
  {
    id: 'numbers.age-of-an-inr',
    kind: 'number',
    what: 'Age of an INR (What is accepted as a finding)',
    value: '0 to 8760 hours (a year)',
  },
  {
    id: 'numbers.platelets',
    kind: 'number',
    what: 'Platelets (What is accepted as a finding)',
    value: '0 to 2000 (10^9/L)',
  },
  {
    id: 'numbers.hours-since-a-drip',
    kind: 'number',
    what: 'Hours since a drip (What is accepted as a finding)',
    value: '0 to 720',
  },
  {
    id: 'numbers.probe',
    kind: 'number',
    what: 'Probe (What is accepted as a finding)',
    value: '1 to 30 MHz',
  },
  {
    id: 'numbers.diameter',
    kind: 'number',
    what: 'Diameter (What is accepted as a finding)',
    value: '0.1 to 200 mm',
  },
  {
    id: 'numbers.asked-for-pregnancy-on-another-day',
    kind: 'number',
    what: 'Asked for pregnancy on another day (What is accepted as a finding)',
    value: 'from 12 to 55 years',
  },
  {
    id: 'numbers.days-since-an-inr-as-texted',
    kind: 'number',
    what: 'Days since an INR, as texted (What is accepted as a finding)',
    value: '0 to 365, kept in hours',
  },
  {
    id: 'numbers.inr-as-texted',
    kind: 'number',
    what: 'INR as texted (What is accepted as a finding)',
    value: '0.5 to 20, 1 decimal',
  },
  {
    id: 'numbers.platelets-as-texted',
    kind: 'number',
    what: 'Platelets as texted (What is accepted as a finding)',
    value: '1 to 1500 thousand, 1 decimal',
  },
  {
    id: 'numbers.hours-since-a-drip-as-texted',
    kind: 'number',
    what: 'Hours since a drip as texted (What is accepted as a finding)',
    value: '0 to 720, whole',
  },
  {
    id: 'numbers.solid-part-as-texted',
    kind: 'number',
    what: 'Solid part as texted (What is accepted as a finding)',
    value: '1 to 150 mm, 1 decimal',
  },
  {
    id: 'numbers.weeks-as-texted',
    kind: 'number',
    what: 'Weeks as texted (What is accepted as a finding)',
    value: '1 to 42, whole',
  },
  {
    id: 'numbers.needles',
    kind: 'number',
    what: 'Needles (Needle and slides)',
    value: '21 G and thicker refused; 22 G accepted with a note; 23 to 27 G preferred',
  },
  {
    id: 'numbers.slides-of-one-attempt',
    kind: 'number',
    what: 'Slides of one attempt (Needle and slides)',
    value: '2',
  },
  {
    id: 'numbers.needles-and-slides-that-a-word-stands-for',
    kind: 'number',
    what: 'Needles and slides that a word stands for (Needle and slides)',
    value: '2 thin needles, 1 of 22 G; 4 slides for many, 2 for few',
  },
  {
    id: 'numbers.looks-at-neck-voice-and-breathing-during-the-watch',
    kind: 'number',
    what: 'Looks at neck, voice and breathing during the watch (After the needle: watch, first aid, needle-stick)',
    value: 'every 10 min',
  },
  {
    id: 'numbers.weeks-of-pregnancy-from-which-nobody-lies-flat',
    kind: 'number',
    what: 'Weeks of pregnancy from which nobody lies flat (After the needle: watch, first aid, needle-stick)',
    value: '20',
  },
  {
    id: 'numbers.fluid-of-one-lump-that-is-taken-for-likely',
    kind: 'number',
    what: 'Fluid of one lump that is taken for likely (After the needle: watch, first aid, needle-stick)',
    value: '0.1 to 150 mL',
  },
  {
    id: 'numbers.pressing',
    kind: 'number',
    what: 'Pressing (After the needle: watch, first aid, needle-stick)',
    value: '5 to 10 min',
  },
  {
    id: 'numbers.pressing-on-a-blood-thinner-or-with-a-bleeding-disorder',
    kind: 'number',
    what: 'Pressing, on a blood thinner or with a bleeding disorder (After the needle: watch, first aid, needle-stick)',
    value: '15 to 30 min',
  },
  {
    id: 'numbers.passes-after-which-the-watch-is-longer',
    kind: 'number',
    what: 'Passes after which the watch is longer (After the needle: watch, first aid, needle-stick)',
    value: 'over 3',
  },
  {
    id: 'numbers.size-from-which-the-watch-is-longer',
    kind: 'number',
    what: 'Size from which the watch is longer (After the needle: watch, first aid, needle-stick)',
    value: '40 mm',
  },
  {
    id: 'numbers.faint-looked-at-again',
    kind: 'number',
    what: 'Faint, looked at again (After the needle: watch, first aid, needle-stick)',
    value: '2, 5 min',
  },
  {
    id: 'numbers.bleeding-or-swelling',
    kind: 'number',
    what: 'Bleeding or swelling (After the needle: watch, first aid, needle-stick)',
    value: '5, 15, 30, 60 min',
  },
  {
    id: 'numbers.trouble-with-breathing',
    kind: 'number',
    what: 'Trouble with breathing (After the needle: watch, first aid, needle-stick)',
    value: '2, 5, 10 min',
  },
  {
    id: 'numbers.changed-voice',
    kind: 'number',
    what: 'Changed voice (After the needle: watch, first aid, needle-stick)',
    value: '15, 60 min',
  },
  {
    id: 'numbers.hiccup',
    kind: 'number',
    what: 'Hiccup (After the needle: watch, first aid, needle-stick)',
    value: '15 min',
  },
  {
    id: 'numbers.needle-stick',
    kind: 'number',
    what: 'Needle-stick (After the needle: watch, first aid, needle-stick)',
    value: '60 min',
  },
  {
    id: 'numbers.other',
    kind: 'number',
    what: 'Other (After the needle: watch, first aid, needle-stick)',
    value: '5, 15 min',
  },
  {
    id: 'numbers.same-after-an-alarm-looked-at',
    kind: 'number',
    what: 'Same after an alarm, looked at (After the needle: watch, first aid, needle-stick)',
    value: 'every 5 min',
  },
  {
    id: 'numbers.needle-again-after-thy1',
    kind: 'number',
    what: 'Needle again after Thy1 (Result: deadlines and risks)',
    value: 'within 28 days',
  },
  {
    id: 'numbers.thy3a-thy3f-a-second-thy1-or-thy3a',
    kind: 'number',
    what: 'Thy3a, Thy3f, a second Thy1 or Thy3a (Result: deadlines and risks)',
    value: 'within 14 days',
  },
  {
    id: 'numbers.benign-high-suspicion-scan-and-needle-again',
    kind: 'number',
    what: 'Benign, high suspicion: scan and needle again (Result: deadlines and risks)',
    value: 'within 365 days',
  },
  {
    id: 'numbers.benign-low-or-intermediate-scan',
    kind: 'number',
    what: 'Benign, low or intermediate: scan (Result: deadlines and risks)',
    value: '365 to 730 days',
  },
  {
    id: 'numbers.benign-very-low-or-a-pure-cyst-scan-if-at-all',
    kind: 'number',
    what: 'Benign, very low or a pure cyst: scan, if at all (Result: deadlines and risks)',
    value: 'from 730 days',
  },
  {
    id: 'numbers.benign-pattern-not-known-scan-first',
    kind: 'number',
    what: 'Benign, pattern not known: scan first (Result: deadlines and risks)',
    value: 'within 365 days',
  },
  {
    id: 'numbers.thy4',
    kind: 'number',
    what: 'Thy4 (Result: deadlines and risks)',
    value: 'within 2 workdays',
  },
  {
    id: 'numbers.thy5',
    kind: 'number',
    what: 'Thy5 (Result: deadlines and risks)',
    value: 'the same day (0)',
  },
  {
    id: 'numbers.tb-pot-of-a-neck-node-how-cold',
    kind: 'number',
    what: 'TB pot of a neck node: how cold (Result: deadlines and risks)',
    value: '2 to 8 degrees Celsius',
  },
  {
    id: 'numbers.tb-pot-of-a-neck-node-to-the-laboratory',
    kind: 'number',
    what: 'TB pot of a neck node: to the laboratory (Result: deadlines and risks)',
    value: 'at most 24 hours',
  },
  {
    id: 'numbers.neck-node-l1',
    kind: 'number',
    what: 'Neck node, L1 (Result: deadlines and risks)',
    value: 'within 14 days',
  },
  {
    id: 'numbers.neck-node-l2',
    kind: 'number',
    what: 'Neck node, L2 (Result: deadlines and risks)',
    value: 'within 28 days',
  },
  {
    id: 'numbers.neck-node-l3',
    kind: 'number',
    what: 'Neck node, L3 (Result: deadlines and risks)',
    value: 'within 7 days',
  },
  {
    id: 'numbers.neck-node-l4',
    kind: 'number',
    what: 'Neck node, L4 (Result: deadlines and risks)',
    value: 'within 2 days',
  },
  {
    id: 'numbers.neck-node-l5',
    kind: 'number',
    what: 'Neck node, L5 (Result: deadlines and risks)',
    value: 'the same day (0)',
  },
  {
    id: 'numbers.neck-node-infection-named-beside-l2',
    kind: 'number',
    what: 'Neck node, infection named beside L2 (Result: deadlines and risks)',
    value: 'within 3 days',
  },
  {
    id: 'numbers.plain-rule',
    kind: 'number',
    what: 'Plain rule (Looking again, in months)',
    value: '6 to 12',
  },
  {
    id: 'numbers.no-needle-felt-again',
    kind: 'number',
    what: 'No needle, felt again (Looking again, in months)',
    value: '24',
  },
  {
    id: 'numbers.after-birth-and-breast-feeding',
    kind: 'number',
    what: 'After birth and breast-feeding (Looking again, in months)',
    value: '40 weeks of pregnancy, 26 of breast-feeding',
  },
  {
    id: 'numbers.ata-no-row',
    kind: 'number',
    what: 'ATA, no row (Looking again, in months)',
    value: '6 to 12',
  },
  {
    id: 'numbers.a-coming-day-lies-at-most-so-far-ahead',
    kind: 'number',
    what: 'A coming day lies at most so far ahead (The programme: clinical durations and limits)',
    value: '60 days',
  },
  {
    id: 'numbers.checks-of-a-silent-sos',
    kind: 'number',
    what: 'Checks of a silent SOS (The programme: clinical durations and limits)',
    value: '16 at most',
  },
  {
    id: 'H01',
    kind: 'hazard',
    what: 'A danger sign is missed',
    value:
      'Cause: not asked, skipped in a hurry, or sent among other digits. Harm: airway closes, or cancer is referred late. Severity: catastrophic. Before: probable. Control: asked of everybody before anything else; noisy breathing ends every question and sends to hospital; `0` counts only alone; unasked is never none. After: remote. Remains: the worker has to look and listen; S (list of signs)',
  },
  {
    id: 'H05',
    kind: 'hazard',
    what: 'Indication wrong by a cut-off',
    value:
      'Cause: wrong figure, sign or word in a table; 10 mm read as over 10. Harm: needle not due, or cancer not sampled. Severity: major. Before: occasional. Control: two readings of each table agree; each figure, comparison and word changed in turn is noticed; exactly 10 mm is measured again. After: improbable. Remains: the plain rule that governs by default has no published source: S',
  },
  {
    id: 'H11',
    kind: 'hazard',
    what: 'A blood thinner is stopped on the word of the line',
    value:
      'Cause: the line asks about warfarin and INR. Harm: stroke, clot, death. Severity: catastrophic. Before: occasional. Control: every text says stop nothing, the prescriber decides; INR, platelets on heparin and the hours since a drip against platelets are asked and gate the needle; the age of the INR is asked and counts, and where nobody knows it the INR is measured again; on another day all of them are asked anew before anything else; an unknown INR on warfarin, and unknown hours, go to the doctor. After: remote. Remains: advice heard by the patient in another form; unknown platelets on heparin are only a caution; S (INR, platelets, hours)',
  },
  {
    id: 'H13',
    kind: 'hazard',
    what: 'Growth is not noticed',
    value:
      'Cause: an earlier examination is not compared. Harm: late cancer. Severity: major. Before: occasional. Control: on the day to look again whoever works at the clinic then is asked for the patient, and the coordinator hears of silence, or that nobody is there; the earlier sizes come along there, with NEW and the code, and with NEW alone where the clinic says that it is the same patient; a reminder finds a newer case and does not ask for a patient who was here; growth by the published rule is said at the read-back and to the doctor, who decides on what would else be watched; what cannot be compared is "growth not known". After: remote. Remains: initials or age said otherwise than before, or after two years: an examination begun with NEW alone knows of no earlier one; two nodules of one side are not compared; sizes are paired by size, not by plane: S',
  },
  {
    id: 'H14',
    kind: 'hazard',
    what: 'The line is taken for the decider',
    value:
      'Cause: short texts sound like orders. Harm: harm by a rule that does not fit this patient. Severity: major. Before: probable. Control: the text says: your protocol decides; every reply says why; the doctor is always one word away. After: occasional. Remains: habit; to be watched in use: S',
  },
  {
    id: 'H22',
    kind: 'hazard',
    what: 'A text is misread because it is cut or long',
    value:
      'Cause: several segments, other letters. Harm: half an instruction. Severity: major. Before: occasional. Control: one segment each unless the file says why; parts are numbered; letters outside GSM-7 are found before release. After: remote. Remains: reading skills of the worker; a language that no nurse has read: S',
  },
  {
    id: 'H25',
    kind: 'hazard',
    what: 'A conversation runs into a dead end or a loop',
    value:
      "Cause: fault in a flow, new version in mid-case. Harm: nobody is asked, patient waits. Severity: major. Before: occasional. Control: every state must have a way out and treat silence; old structures are served on while today's texts fit them, whoever walks another is asked anew by today's. After: remote. Remains: a way out that is clinically wrong: read by S",
  },
  {
    id: 'H41',
    kind: 'hazard',
    what: 'Too thick a needle',
    value:
      'Cause: what is there is used. Harm: bleeding. Severity: major. Before: occasional. Control: 22 G is the thickest, with its note; 21 G is refused in words. After: remote. Remains: the cut is a convention: S',
  },
  {
    id: 'H42',
    kind: 'hazard',
    what: 'The patient is not fit for the needle today',
    value:
      'Cause: cough, fear, sore skin over the lump, high pressure. Harm: puncture of a vessel or windpipe, germs carried in, bleeding. Severity: major. Before: occasional. Control: asked before in the one checklist; put off to a day, or the doctor allows it; high pressure rests and is measured again, and the neck is watched 60 min; not measured is never normal. After: remote. Remains: a cough at the needle: SOS; where no pressure is measured it is not known; S (160/100, 15 min)',
  },
  {
    id: 'H43',
    kind: 'hazard',
    what: 'Labels are swapped',
    value:
      "Cause: two patients in a row, written later. Harm: result of another: wrong operation. Severity: catastrophic. Before: occasional. Control: code pencilled before the needle and read back from the glass; name, birth date and side are asked of the patient and compared on slides and jar, before anybody gets up; the side on the jar is the one that was said of this lump, never a default; a mismatch is never sent; the jar is written in the language that the laboratory reads. After: remote. Remains: names are by hand and out of the line's sight; S",
  },
  {
    id: 'H46',
    kind: 'hazard',
    what: 'Needle-stick of the worker, hours lost',
    value:
      'Cause: not reported, wrong advice. Harm: HIV, hepatitis. Severity: catastrophic. Before: occasional. Control: wash first; by hours: 24 h best, 72 h last; unknown never closes the window; asked again after 1 h. After: remote. Remains: tablets have to be there: S',
  },
  {
    id: 'H49',
    kind: 'hazard',
    what: 'First aid is wrong',
    value:
      'Cause: wrong event chosen, wrong words. Harm: airway lost. Severity: catastrophic. Before: occasional. Control: three kinds of first aid come at once, before the choice; looked at again by the event, and by its own word WORSE at any time; any airway sign = hospital now. After: remote. Remains: no drug doses, no opening of the neck: S reads every word',
  },
  {
    id: 'H51',
    kind: 'hazard',
    what: 'The doctor is silent',
    value:
      "Cause: asleep, no net. Harm: no decision; worker acts alone. Severity: catastrophic. Before: probable. Control: ladder by urgency, then a number to call and the coordinator; an unanswered stop stays a stop; the worker hears who was texted; an alarm that goes to a colleague takes the doctor's answer along. After: remote. Remains: a programme with one doctor; S (minutes of the rungs)",
  },
  {
    id: 'H54',
    kind: 'hazard',
    what: 'The watch is ended early',
    value:
      'Cause: clinic closes, waiting room full. Harm: bleed on the road. Severity: catastrophic. Before: occasional. Control: 30 or 60 min by risk; POST before is refused; an alarm starts it anew. After: remote. Remains: times are conventions: S',
  },
  {
    id: 'H56',
    kind: 'hazard',
    what: 'The neck swells at home',
    value:
      'Cause: bleed after hours or days. Harm: airway closes. Severity: catastrophic. Before: remote. Control: what to look for, day or night, for 2 days, is said before going home. After: remote. Remains: the control lessens the harm, not the likelihood; the patient has no phone on the line, the warning is by mouth: S',
  },
  {
    id: 'H63',
    kind: 'hazard',
    what: 'Risks of two bases are mixed',
    value:
      'Cause: histology only against all cases. Harm: fear or false calm. Severity: moderate. Before: occasional. Control: each basis has its own type and source; Thy4 and Thy5 of one department are told as of operated nodules, which they are; figures printed as "below" are told so. After: improbable. Remains: figures are of other countries: S',
  },
  {
    id: 'H68',
    kind: 'hazard',
    what: 'A suspicious result waits',
    value:
      'Cause: nobody answers, text alone. Harm: cancer late. Severity: catastrophic. Before: occasional. Control: Thy4 and Thy5 to doctor and worker at once, ladder, phone call recorded, deadline by category. After: remote. Remains: days of the deadlines are conventions: S',
  },
  {
    id: 'H69',
    kind: 'hazard',
    what: 'An unsure result is acted on too much or too little',
    value:
      "Cause: Thy3. Harm: operation not due, or cancer late. Severity: major. Before: occasional. Control: this week to the doctor; refer or repeat is the doctor's word; for Thy3f, and the second time, referring comes first. After: remote. Remains: what is done meanwhile: S",
  },
  {
    id: 'H75',
    kind: 'hazard',
    what: 'A photo is judged instead of the patient, or is of another one',
    value:
      'Cause: picture sent in a hurry (only where a programme allows them). Harm: wrong advice. Severity: major. Before: occasional. Control: under each photo: it shows less than the patient, findings go first; the tag stands in the answer, the code in the caption names another case; nothing is decided by a photo, the doctor answers a question. After: remote. Remains: a doctor who looks at nothing else; S (whether a programme should allow it)',
  },
  {
    id: 'H80',
    kind: 'hazard',
    what: 'A cry in plain words is not heard, or an ordinary answer is taken for one',
    value:
      'Cause: fear, slips of the thumb, no thought of the word SOS. Harm: the patient chokes at an unanswered phone; or a false alarm and a line that nobody believes. Severity: catastrophic. Before: occasional. Control: words of danger are heard with a slip of a letter while a patient is at hand and for two days; not where they are denied, asked, past or of somebody else, nor as the exact answer to the open question; bleeding, help, faint: first aid at once, the alarm without an answer in two minutes or with a second cry. After: remote. Remains: words that the list lacks; words of another language: S (the list, the two minutes)',
  },
  {
    id: 'H86',
    kind: 'hazard',
    what: 'Fluid is taken for blood or for cells',
    value:
      "Cause: brown fluid in the hub, or the answer is missing. Harm: a needless second needle, an empty result trusted, a parathyroid, cancer or abscess missed. Severity: major. Before: frequent. Control: an answer of its own with volume and colour; kept as the laboratory said, or in its own tube where nobody asked; the solid rest gets a new needle; clear, pus and brown from the side of the neck stop and go to the doctor, who may refer however late, red that refills is an alarm. After: remote. Remains: the colour is the worker's eye; S",
  },
  {
    id: 'H87',
    kind: 'hazard',
    what: 'A pregnant patient is laid flat',
    value:
      'Cause: the briefing is the same for everybody. Harm: womb presses on the great vein: faint, harm to the child. Severity: major. Before: occasional. Control: from 20 weeks, and by the belly where weeks are not known, tilted to the left or half sitting; a faint is turned to the left. After: remote. Remains: a pregnancy that nobody told; S',
  },
  {
    id: 'H92',
    kind: 'hazard',
    what: 'A patient who cannot breathe lying is laid flat',
    value:
      'Cause: the lump presses on the windpipe; nobody asked. Harm: airway closes. Severity: catastrophic. Before: occasional. Control: asked last before the needle by a number of its own; then no needle, sits up, urgent referral, the doctor hears. After: remote. Remains: asked, not tried: S',
  },
  {
    id: 'H93',
    kind: 'hazard',
    what: 'A vessel is punctured as a lump',
    value:
      'Cause: no ultrasound beside the needle, nobody felt for a pulse. Harm: bleeding, stroke. Severity: catastrophic. Before: remote. Control: a finger on the lump before a needle that no ultrasound guides; what beats gets none, what nobody can tell waits for the doctor. After: improbable. Remains: a deep vessel; S',
  },
  {
    id: 'H94',
    kind: 'hazard',
    what: 'The operation for the common cancer is done for another one',
    value:
      'Cause: "needs a surgeon" for lymphoma, anaplastic, medullary, a metastasis. Harm: death from a hidden phaeochromocytoma; an operation not due; the airway closes before anybody looked. Severity: catastrophic. Before: occasional. Control: the clinic reads "a specialist hospital"; the laboratory\'s own words are shown as said, and a type that it names has its line and first choice for the doctor: core biopsy, airway, tests before any anaesthetic, another cancer; such a result, and any cancer named beside a category that is none, is pressing; denied, doubted or past words steer nothing, and none lowers anything. After: remote. Remains: a type that the laboratory does not name, or names in a way that is not in its language\'s words: S',
  },
  {
    id: 'H95',
    kind: 'hazard',
    what: "A neck node's result is read as the thyroid's, or calms about the lump",
    value:
      'Cause: two systems with numbers alike, one patient with two jars. Harm: cancer left, or an operation on the wrong thing. Severity: catastrophic. Before: occasional. Control: a node has its own code, label (NECK NODE, side, level or above the collarbone), request and read-back; its results are L1 to L5 with the laboratory\'s words and are never converted; a thyroid category for a node, and an L for the thyroid, are refused in words; Roman numerals, which may be levels, are asked back; no node\'s result is held for or against the lump, and this is said to clinic and doctor. After: remote. Remains: a laboratory that writes "benign" without looking for the rest; S (actions, times)',
  },
  {
    id: 'H96',
    kind: 'hazard',
    what: 'Tuberculosis in a node is missed',
    value:
      'Cause: it sits in the benign category; no pot, alcohol in the pot, no dried slide. Harm: untreated, and others infected. Severity: major. Before: probable. Control: the pot (sterile saline, no alcohol, no formalin), a dried slide for the stain and suction come before gloves; what came out is asked and told to the laboratory; L2 without a word on tuberculosis or granuloma is asked back; named, even doubted, the doctor is asked the same day; a negative never rules it out, in every text. After: occasional. Remains: tests that are not to be had; time and cold of the pot are our convention: S',
  },
  {
    id: 'H97',
    kind: 'hazard',
    what: 'A needle into an artery or the top of the lung, taken for a node',
    value:
      'Cause: a lump that beats, a node just above the collarbone. Harm: bleeding, stroke, collapse of the lung. Severity: catastrophic. Before: occasional. Control: a finger on each node before its needle: beats, or cannot tell = no needle; just above the collarbone only with the tip seen on ultrasound where the site has it; else the node is no longer proposed, and the hospital has it. After: remote. Remains: a pulse that nobody felt; S',
  },
  {
    id: 'H106',
    kind: 'hazard',
    what: 'Patients are served by a line on which nobody can help, or by values nobody answers for',
    value:
      "Cause: started with one doctor, an invented hospital, numbers that no clinician has read. Harm: an SOS reaches nobody; a rule is followed that the programme never chose. Severity: catastrophic. Before: occasional. Control: real channels start only with two doctors, a coordinator, every laboratory and one's own names, else as a trial that everybody is told of; each convention is signed by a named clinician, a changed value asks for it again, and what is unsigned is said at each start and each Monday. After: remote. Remains: somebody who signs without reading; people who depend on a trial all the same: S",
  },
  {
    id: 'H108',
    kind: 'hazard',
    what: 'A translation says another thing than English, or drops a caution',
    value:
      'Cause: several languages, screens of 160 signs, words of two meanings, English that changed since. Harm: the needle stays in, air is blown into the neck, a wrong side, an alarm that is not ended or not heard. Severity: catastrophic. Before: occasional. Control: values, numbers, cautions, negations, units and words to send of every text are compared with English; what changed since it was compared is listed; whole cases are played in both languages side by side; figures are drawn in their order on phones that write from right to left; cries are heard in the own language and in English. After: remote. Remains: words that only somebody who speaks the language sees: S (each language)',
  },
];
