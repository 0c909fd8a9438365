import { alarmDefences } from './alarms.ts';
import type { Defence } from './defence.ts';

/** What holds each row of deploy/hazards.md. */
export const hazardDefences: readonly Defence[] = [
  {
    row: 'H01',
    file: 'src/clinical/gates.ts',
    is: `  if (signs.includes('stridor')) return stop('emergency-now', ['stridor']);
`,
    becomes: '',
    red: [
      'tests/published/gates.test.ts › danger signs come before any score',
      'tests/conversations/outcome-emergency-now.play',
    ],
  },
  {
    row: 'H01',
    file: 'src/clinical/gates.ts',
    is: "return dangerSigns.open ? open('danger-signs-unknown', 'dangerSigns') : pass;",
    becomes: 'return pass;',
    red: ['tests/clinical/indication.test.ts › a gate that nobody has asked about is not passed'],
  },
  {
    row: 'H01',
    file: 'src/conversation/answers/choices.ts',
    is: "option.reply === '0' || option.id === 'none'",
    becomes: "option.reply === 'none'",
    red: ['tests/conversations/zero-at-danger-signs.play'],
  },
  {
    row: 'H02',
    file: 'src/clinical/indication.ts',
    is: '[dangerSignsGate, ...gatesBeforeScore]',
    becomes: '[...gatesBeforeScore, dangerSignsGate]',
    red: [
      'tests/clinical/indication.test.ts › an urgent sign outweighs every score, and only words of the closed lists are spoken',
    ],
  },
  {
    row: 'H03',
    file: 'src/clinical/gates.ts',
    is: 'const adultFromYears = 18;',
    becomes: 'const adultFromYears = 12;',
    red: [
      'tests/published/gates.test.ts › children and special risks',
      'tests/conversations/outcome-refer-first-child.play',
    ],
  },
  {
    row: 'H03',
    file: 'src/case/findings-of.ts',
    is: 'turns === 18 ? 17 : turns',
    becomes: 'turns',
    red: ['tests/case/findings-of.test.ts › born in %d counts as %d in 2030: %s'],
  },
  {
    row: 'H04',
    file: 'src/clinical/completions.ts',
    is: "if (third !== undefined) return 'undetermined';",
    becomes: 'if (third !== undefined) return third;',
    red: ['tests/clinical/completions.test.ts › %j comes to %s'],
  },
  {
    row: 'H04',
    file: 'src/conversation/matters/findings-readers.ts',
    is: "const weak = textAnswer(m, 'ultrasound.probe') !== 'linear';",
    becomes: "const weak = textAnswer(m, 'ultrasound.probe') === 'none';",
    red: [
      'tests/conversation/matters/features.test.ts › is unknown where a weak probe cannot show it, save shape and gross extension',
    ],
  },
  {
    row: 'H05',
    file: 'src/clinical/policies/common-practice.ts',
    is: "return mm > solidSampleOverMm ? 'sample' : 'follow-up';",
    becomes: "return mm >= solidSampleOverMm ? 'sample' : 'follow-up';",
    red: ['tests/published/thirty-nodules.test.ts › %s, %d mm: %s / %s / %s / %s'],
  },
  {
    row: 'H05',
    file: 'src/clinical/cautions.ts',
    is: `if (nodules.some(({ nodule }) => isExactlyAtParting(nodule))) notes.push(note('exactly-10-mm', 'mm'));
`,
    becomes: `
`,
    red: ['tests/clinical/indication.test.ts › what is said beside a decision'],
  },
  {
    row: 'H06',
    file: 'src/conversation/answers/diameters.ts',
    is: 'const surelyMm = 5;',
    becomes: 'const surelyMm = 1;',
    red: ['tests/conversation/answers/diameters.test.ts › are asked again for %s'],
  },
  {
    row: 'H07',
    file: 'src/conversation/answers/quick-scan.ts',
    is: 'const denied = this.lexicon.deniedBehind(at + length);',
    becomes: 'const denied = false;',
    red: ['tests/conversation/quick-text.test.ts › does not take %s'],
  },
  {
    row: 'H07',
    file: 'src/conversation/quick-text.ts',
    is: "return complete ? [...items] : [...items, 'unknown'];",
    becomes: 'return [...items];',
    red: [
      'tests/conversation/quick-text.test.ts › takes a list as complete only when it was named and said to its end: %j',
    ],
  },
  {
    row: 'H08',
    file: 'src/clinical/gates.ts',
    is: `  if (known.scan === 'hot') return stop('refer-first', ['hot-nodule']);
`,
    becomes: '',
    red: ['tests/published/gates.test.ts › TSH and pregnancy', 'tests/conversations/low-tsh-scan.play'],
  },
  {
    row: 'H08',
    file: 'locales/en/decision.json',
    is: '"No thyroid scan in pregnancy."',
    becomes: '"Thyroid scan."',
    red: ['tests/conversations/outcome-optional.play'],
  },
  {
    row: 'H09',
    file: 'src/clinical/gates.ts',
    is: `  if (risks.present.includes('family-medullary')) return stop('refer-first', ['family-medullary']);
`,
    becomes: '',
    red: [
      'tests/published/gates.test.ts › children and special risks',
      'tests/conversations/outcome-refer-first-medullary.play',
    ],
  },
  {
    row: 'H09',
    file: 'src/clinical/clotting.ts',
    is: `  if (bleeding.present.includes('bleeding-disorder')) return 'bleeding-disorder';
`,
    becomes: '',
    red: ['tests/published/gates.test.ts › drugs and clotting'],
  },
  {
    row: 'H10',
    file: 'src/clinical/gates.ts',
    is: `  if (ultrasoundDone !== true) {
    because.push('no-ultrasound');`,
    becomes: `  if (ultrasoundDone === null) {
    because.push('no-ultrasound');`,
    red: ['tests/published/gates.test.ts › without ultrasound'],
  },
  {
    row: 'H10',
    file: 'src/clinical/place.ts',
    is: "if (felt === true || guidance === true) return 'here';",
    becomes: "if (felt !== null || guidance === true) return 'here';",
    red: ['tests/conversations/outcome-sample-elsewhere.play', 'tests/published/gates.test.ts › where to sample'],
  },
  {
    row: 'H10',
    file: 'src/clinical/place.ts',
    is: 'return others.every((other) => other.palpable === false) ? true : null;',
    becomes: 'return others.length > 9 ? null : true;',
    red: ['tests/clinical/proposed.test.ts › which of two lumps of one side was felt, the neck alone does not say'],
  },
  {
    row: 'H10',
    file: 'src/case/findings-of.ts',
    is: '  if (!felt.includes(side)) return false;\n',
    becomes: '  if (felt.length === 0) return false;\n',
    red: ['tests/case/findings-of.test.ts › is told by the side where each side has one lump'],
  },
  {
    row: 'H09',
    file: 'src/clinical/gates.ts',
    is: `  knownStopsGate,
  mandatoryStepsGate,
`,
    becomes: `  mandatoryStepsGate,
  knownStopsGate,
`,
    red: ['tests/clinical/order-of-gates.test.ts › a known stop is said as such, whatever step is still missing'],
  },
  {
    row: 'H11',
    file: 'src/clinical/clotting.ts',
    is: 'const inrHours = { settled: 72, afterChange: 24 }',
    becomes: 'const inrHours = { settled: 168, afterChange: 72 }',
    red: ['tests/clinical/inr-age.test.ts › of %d h, something new since: %s -> %s'],
  },
  {
    row: 'H11',
    file: 'locales/en/decision.json',
    is: 'Do not stop the blood thinner; press longer.',
    becomes: 'Press longer.',
    red: ['tests/conversations/typing-errors-findings.play'],
  },
  {
    row: 'H11',
    file: 'src/clinical/clotting.ts',
    is: 'const ivAntiplateletHoursLeast = 24;',
    becomes: 'const ivAntiplateletHoursLeast = 4;',
    red: ['tests/published/gates.test.ts › drugs and clotting', 'tests/conversations/drip-and-heparin.play'],
  },
  {
    row: 'H11',
    file: 'src/clinical/clotting.ts',
    is: 'inr > clotting.inrMost',
    becomes: 'inr > clotting.inrMost * 2',
    red: ['tests/published/gates.test.ts › drugs and clotting'],
  },
  {
    row: 'H12',
    file: 'src/clinical/several-nodules.ts',
    is: `    b.suspicion - a.suspicion ||
    acrPoints(b) - acrPoints(a) ||
`,
    becomes: '',
    red: [
      'tests/clinical/several-nodules-order.test.ts › the more suspicious one, though the other is larger (Tessler 2017: the highest scores, not the largest)',
    ],
  },
  {
    row: 'H13',
    file: 'src/case/earlier.ts',
    is: '.sort((a, b) => volume(a) - volume(b))',
    becomes: '.sort((a, b) => volume(b) - volume(a))',
    red: ['tests/case/earlier.test.ts › is the smallest of several, so that slow growth is seen'],
  },
  {
    row: 'H13',
    file: 'src/clinical/nodule.ts',
    is: 'const volumeGrowthPercent = 50;',
    becomes: 'const volumeGrowthPercent = 80;',
    red: ['tests/published/volume-and-growth.test.ts › %j to %j'],
  },
  {
    row: 'H13',
    file: 'src/conversation/matters/again.ts',
    is: `at: instantOf(day, daytime.from, zoneOf(moment)),
  };`,
    becomes: `at: instantOf(day, daytime.from, zoneOf(moment)) + 400 * 86_400_000,
  };`,
    red: ['tests/conversations/growth-at-follow-up.play'],
  },
  {
    row: 'H43',
    file: 'src/conversation/matters/labelling.ts',
    is: 'side: specimen.target.side,',
    becomes: "side: 'right',",
    red: [
      'tests/conversation/matters/labelling.test.ts › the jar bears the side of the specimen, whatever the findings say of other lumps',
    ],
  },
  {
    row: 'H12',
    file: 'src/case/target.ts',
    is: 'return more === undefined ? (only ?? null) : null;',
    becomes: 'return only ?? null;',
    red: [
      'tests/case/target.test.ts › felt %j: no side is invented',
      'tests/conversations/side-asked-before-the-code.play',
    ],
  },
  {
    row: 'H11',
    file: 'src/conversation/matters/another-day.ts',
    is: 'return at === undefined || day(at) !== day(moment.now);',
    becomes: 'return at === undefined;',
    red: ['tests/conversations/another-day-asks-anew.play', 'tests/conversations/another-day-finds-a-stop.play'],
  },
  {
    row: 'H09',
    file: 'src/conversation/matters/doctor-yes.ts',
    is: "if (neverAsked(m.case!).length > 0) return 'unasked';",
    becomes: '',
    red: ['tests/conversations/doctor-knows-what-was-not-asked.play'],
  },
  {
    row: 'H10',
    file: 'src/conversation/matters/doctor-yes.ts',
    is: "decide: (m) => (stopsOfNeedle(m).length === 0 ? 'needle' : 'no-needle')",
    becomes: "decide: () => 'needle'",
    red: ['tests/conversations/no-needle-for-a-child-from-afar.play'],
  },
  {
    row: 'H14',
    file: 'locales/en/decision.json',
    is: '{sampleScreens} Your protocol decides. 1 now',
    becomes: '{sampleScreens} 1 now',
    red: ['tests/conversations/outcome-sample.play'],
  },
  {
    row: 'H15',
    file: 'src/conversation/matters/findings.ts',
    is: 'if (!others.has(initials)) return initials;',
    becomes: "if (initials !== '') return initials;",
    red: ['tests/conversations/same-initials.play'],
  },
  {
    row: 'H15',
    file: 'src/case/same-patient.ts',
    is: 'if (mine.initials !== theirs.initials || mine.sex !== theirs.sex) return false;',
    becomes: 'if (mine.initials !== theirs.initials) return false;',
    red: ['tests/case/same-patient.test.ts › whether two cases could be of one patient'],
  },
  {
    row: 'H16',
    file: 'src/conversation/hear-tap.ts',
    is: 'askToken(one.ask.frameId, one.ask.entry) === token',
    becomes: 'one.id === asking?.id && token.length > 0',
    red: [
      'tests/conversation/hear-tap.test.ts › of a question that another patient was put on top of answers that question',
    ],
  },
  {
    row: 'H16',
    file: 'src/conversation/hear-tap.ts',
    is: 'if (!meant || doctorToken(meant.id) !== token) oldButton',
    becomes: 'if (!meant) oldButton',
    red: ['tests/conversation/hear-tap.test.ts › does not answer another question that was given the same tag since'],
  },
  {
    row: 'H17',
    file: 'flows/programme.yaml',
    is: 'network-before-ask: 5s',
    becomes: 'network-before-ask: 5d',
    red: ['tests/conversation/hear.test.ts › sent %s: refused %s', 'tests/conversations/late-answer.play'],
  },
  {
    row: 'H17',
    file: 'flows/sampling.yaml',
    is: `  again-little:
    quiet: true
    noBack: true
    ask:
      {
        field: attempt,
        kind: choice,
        each: true,
        reader: attempts,
        numbered: attempt,`,
    becomes: `  again-little:
    quiet: true
    noBack: true
    ask:
      {
        field: attempt,
        kind: choice,
        each: true,
        reader: attempts,`,
    red: ['tests/conversations/late-one-at-an-attempt.play'],
  },
  {
    row: 'H18',
    file: 'src/conversation/matters/sampling.ts',
    is: "const repeated = !marked && plain.replace(/\\D/g, '') === m.frame.vars.lastReport;",
    becomes: "const repeated = marked && m.frame.vars.lastReport === '';",
    red: [
      'tests/conversation/matters/sampling.test.ts › does not take a report sent twice for the slides, but does with an S',
    ],
  },
  {
    row: 'H18',
    file: 'src/conversation/matters/laboratory.ts',
    is: `  if (!before || before.code !== parsed.code) return false;
`,
    becomes: `  if (before || !parsed.code) return false;
`,
    red: ['tests/conversations/result-twice.play'],
  },
  {
    row: 'H19',
    file: 'src/conversation/late.ts',
    is: 'const first = ask.first ?? ask;',
    becomes: 'const first = ask;',
    red: ['tests/conversation/hear.test.ts › counts the first showing when the question was repeated meanwhile'],
  },
  {
    row: 'H20',
    file: 'src/conversation/answers/options.ts',
    is: `if (!run.every((option) => option !== undefined)) return null;
    found.push(...run);`,
    becomes: 'found.push(...run.filter((option) => option !== undefined));',
    red: ['tests/conversation/answers/options.test.ts › are not read from %j'],
  },
  {
    row: 'H20',
    file: 'src/conversation/answers/options.ts',
    is: "if (phrase.meaning === 'several') return null;",
    becomes: "if (phrase.meaning === 'several') phrase.meaning = options[0]!;",
    red: ['tests/conversation/answers/options.test.ts › takes a word that stands for two options for neither'],
  },
  {
    row: 'H21',
    file: 'locales/en/labelling.json',
    is: 'sprayed, flat, dry at {sprayDoneTime}.',
    becomes: 'sprayed, flat.',
    red: ['tests/conversations/crash-while-drying.play'],
  },
  {
    row: 'H21',
    file: 'src/store/outbox.ts',
    is: `(h.lane < m.lane or (h.lane = m.lane and \${before}))`,
    becomes: '(h.lane < m.lane)',
    red: ['tests/contract/store-sending.ts › order per person within a lane is kept, one text on its way at a time'],
  },
  {
    row: 'H22',
    file: 'src/content/check-texts.ts',
    is: 'if (segments === 1) continue;',
    becomes: 'if (segments < 9) continue;',
    red: ['tests/content/check-texts.test.ts › are refused for %s'],
  },
  {
    row: 'H22',
    file: 'src/text/split.ts',
    is: "if (!choice.numbered) return pack(whole, '');",
    becomes: "if (choice) return pack(whole, '');",
    red: ['tests/text/split.test.ts › numbers the parts and keeps room for the number'],
  },
  {
    row: 'H23',
    file: 'flows/sampling.yaml',
    is: `  report:
    quiet: true
`,
    becomes: `  report:
`,
    red: ['tests/conversations/quiet-while-gloves-are-on.play'],
  },
  {
    row: 'H24',
    file: 'src/conversation/matters/people.ts',
    is: "turn.notify('coordinators', 'people.stopped-for-coordinator'",
    becomes: "turn.notify('lab', 'people.stopped-for-coordinator'",
    red: ['tests/conversations/stop-in-the-middle-of-sampling.play'],
  },
  {
    row: 'H24',
    file: 'locales/en/people.json',
    is: 'STOPPED: no more texts from this line. Patient in trouble? SOS. Come',
    becomes: 'STOPPED: no more texts from this line. Come',
    red: ['tests/conversations/stop-in-the-middle-of-sampling.play', 'tests/conversations/sos-after-stop.play'],
  },
  {
    row: 'H25',
    file: 'src/content/check-paths.ts',
    is: 'if (others.length === 0 && !isEnd(state)) {',
    becomes: 'if (others.length < 0 && !isEnd(state)) {',
    red: ['tests/content/check-flow.test.ts › refuses a state that nobody can leave'],
  },
  {
    row: 'H25',
    file: 'flows/action.yaml',
    is: `    timers: { over: { at: day-after-appointment, daytime: true } }
    transitions: { timer.over: seen }`,
    becomes: '    transitions: {}',
    red: ['tests/content/package.test.ts › is sound: flows, texts of every language, programme'],
  },
  {
    row: 'H26',
    file: 'src/case/duty.ts',
    is: 'const owed = open.filter(lacks);',
    becomes: 'const owed = open.filter((one) => one.id !== what);',
    red: ['tests/case/specimen-owed.test.ts › is reminded of the specimen that lacks what is owed'],
  },
  {
    row: 'H26',
    file: 'src/conversation/climb.ts',
    is: `  else tell(duty.owner);
`,
    becomes: '',
    red: ['tests/conversations/no-fixative.play'],
  },
  {
    row: 'H27',
    file: 'src/conversation/daily.ts',
    is: "if (due.what.kind !== 'tell' || due.what.lane !== 'reminder') return false;",
    becomes: "if (due.what.kind !== 'tell') return false;",
    red: ['tests/conversation/daily.test.ts › put off reminders till tomorrow, and nothing else'],
  },
  {
    row: 'H27',
    file: 'src/store/outbox.ts',
    is: "(h.status = 'sending' and (m.lane > 0 or h.lane = 0))",
    becomes: "(h.status = 'sending')",
    red: ['tests/contract/store-sending.ts › first aid does not wait for a text on its way'],
  },
  {
    row: 'H28',
    file: 'src/conversation/frozen.ts',
    is: '(turn.caseOf(thread.caseId)?.frozen ?? null) !== null',
    becomes: 'turn.caseOf(thread.caseId) === null',
    red: ['tests/conversations/wrong-reopens.play'],
  },
  {
    row: 'H29',
    file: 'src/conversation/doctor-desk.ts',
    is: '  if (option?.care) {',
    becomes: '  if (option) {',
    red: [
      'tests/conversation/doctor-desk.test.ts › as a bare digit never lets anything go on',
      'tests/conversations/wrong-tag.play',
    ],
  },
  {
    row: 'H29',
    file: 'src/conversation/doctor-desk.ts',
    is: `  if (option && !option.care && mustReleaseFirst(turn, person, question)) return true;
`,
    becomes: '',
    red: ['tests/conversation/doctor-desk.test.ts › takes no answer that lets it go on before its release'],
  },
  {
    row: 'H29',
    file: 'src/conversation/guesses.ts',
    is: `  turn.notify('coordinators', 'doctor.many-wrong-tags', 'notice', null, null, { who: person.name });
`,
    becomes: '',
    red: [
      'tests/conversation/doctor-desk.test.ts › with a tag that is not his changes nothing, and three in a day tell the coordinator',
    ],
  },
  {
    row: 'H30',
    file: 'src/conversation/matters/confirm.ts',
    is: 'const meant = open.find((one) => one.specimen.readBack?.challenge === challenge);',
    becomes: 'const meant = open.at(-1);',
    red: [
      'tests/refusals/forgery.test.ts › has two tries of nine thousand at a read-back, before the year on the slide: then results are locked',
    ],
  },
  {
    row: 'H30',
    file: 'src/conversation/matters/confirm.ts',
    is: "return foldInitials(String(of.answers['patient.initials'] ?? ''));",
    becomes: "return '';",
    red: ['tests/conversation/matters/laboratory.test.ts › the initials where only an age is known'],
  },
  {
    row: 'H31',
    file: 'src/conversation/join-by-link.ts',
    is: 'if (invitation.used || invitation.validUntil < turn.now ||',
    becomes: 'if (invitation.validUntil < turn.now ||',
    red: ['tests/channels/telegram/join-link.test.ts › lets in whoever opens it first, and nobody after'],
  },
  {
    row: 'H31',
    file: 'src/conversation/join-by-link.ts',
    is: 'invitation.validUntil < turn.now ||',
    becomes: 'invitation.validUntil < 0 ||',
    red: ['tests/channels/telegram/join-link.test.ts › lapses after its hours'],
  },
  {
    row: 'H31',
    file: 'src/conversation/authority.ts',
    is: "? 'two-people' : 'challenge'",
    becomes: "? 'challenge' : 'challenge'",
    red: [
      'tests/conversation/authority.test.ts › %s of a doctor, laboratory or coordinator takes two people',
      'tests/conversations/roster-two-people.play',
    ],
  },
  {
    row: 'H32',
    file: 'locales/en/action.json',
    is: '"certainty-thy4": "suspicious, not certain"',
    becomes: '"certainty-thy4": "Thy4, not certain"',
    red: [
      'tests/deploy/hazards.test.ts › %s: the worker gets no category, and no word of the finding in the first 40 letters',
      'tests/conversations/thy4.play',
    ],
  },
  {
    row: 'H33',
    file: 'src/conversation/matters/people.ts',
    is: 'if (!of || of.siteId !== person.siteId || of.closed !== null) {',
    becomes: 'if (!of || of.closed !== null) {',
    red: ['tests/conversations/take-over.play'],
  },
  {
    row: 'H33',
    file: 'src/conversation/matters/codes.ts',
    is: 'person.siteId === of.siteId) return true;',
    becomes: "of.siteId !== '') return true;",
    red: [
      'tests/refusals/guessing.test.ts › %s sends %s: a case of others gets the words of a code that nobody issued',
    ],
  },
  {
    row: 'H33',
    file: 'src/observe/log.ts',
    is: 'isWord && !/^\\d{6,}$/.test(value)',
    becomes: 'isWord',
    red: ['tests/observe/log.test.ts › withholds %s under an allowed name'],
  },
  {
    row: 'H34',
    file: 'src/clinical/supplies.ts',
    is: `  if (fixative === 'none' && at.stain === 'wet') stops.push('no-fixative');
`,
    becomes: '',
    red: ['tests/clinical/supplies.test.ts › a missing %s stops the case', 'tests/conversations/no-fixative.play'],
  },
  {
    row: 'H35',
    file: 'src/clinical/supplies.ts',
    is: "has.has('spray') ? 'spray' : 'none';",
    becomes: "has.has('spray') || has.has('weak-alcohol') ? 'spray' : 'none';",
    red: [
      'tests/clinical/supplies.test.ts › 70 % alcohol and hand gel are no fixative, and this is said',
      'tests/conversations/weak-alcohol.play',
    ],
  },
  {
    row: 'H35',
    file: 'locales/en/ready.json',
    is: '"Gel and 70% are no fixative: do not use them."',
    becomes: '"Gel and 70%."',
    red: ['tests/conversations/weak-alcohol.play'],
  },
  {
    row: 'H36',
    file: 'locales/en/sampling.json',
    is: 'Smear with 2nd slide. {fixNow}. Needle to sharps box, never recap",\n  "brief-expel-suction"',
    becomes: 'Smear with 2nd slide. Needle to sharps box, never recap. {fixNow}",\n  "brief-expel-suction"',
    red: ['tests/published/sampling-order.test.ts › the briefing for %s keeps every rule of order'],
  },
  {
    row: 'H36',
    file: 'locales/en/sampling.json',
    is: 'Needle into lump{see}, THEN pull. Short strokes {strokeSeconds} s in one line. Material in hub: stop. RELEASE plunger, THEN needle out.',
    becomes:
      'Needle into lump{see}, THEN pull. Short strokes {strokeSeconds} s in one line. Material in hub: stop. Needle out, THEN RELEASE plunger.',
    red: ['tests/conversations/holder.play'],
  },
  {
    row: 'H36',
    file: 'locales/en/sampling.json',
    is: 'You say LET GO: helper RELEASES, THEN needle out.',
    becomes: 'You say LET GO: needle out, THEN helper RELEASES.',
    red: ['tests/conversations/second-operator.play'],
  },
  {
    row: 'H36',
    file: 'locales/en/sampling.json',
    is: 'RELEASE, THEN needle out. Press"',
    becomes: 'Needle out, THEN RELEASE. Press"',
    red: ['tests/conversations/improvised-holder.play'],
  },
  {
    row: 'H37',
    file: 'src/clinical/sampling.ts',
    is: `    case 'material':
      return { next: 'done' };`,
    becomes: `    case 'material':
    case 'blood' as never:
      return { next: 'done' };`,
    red: [
      'tests/clinical/sampling.test.ts › blood is smeared, then a new needle at another point',
      'tests/conversations/blood-then-success.play',
    ],
  },
  {
    row: 'H37',
    file: 'locales/en/sampling.json',
    is: '"again-blood": "{tag} BLOOD does not count. Press.',
    becomes: '"again-blood": "{tag} BLOOD. Press.',
    red: ['tests/conversations/blood-then-success.play'],
  },
  {
    row: 'H38',
    file: 'src/clinical/fixation.ts',
    is: "advice.push('mark-dried-slides-ad', 'do-not-fix-dried-slides')",
    becomes: "advice.push('mark-dried-slides-ad')",
    red: ['tests/clinical/fixation.test.ts › all dried for a wet stain: marked, told, posted at once, doctor asked'],
  },
  {
    row: 'H38',
    file: 'locales/en/sampling.json',
    is: 'dried slides: NOT into alcohol now.',
    becomes: 'dried slides.',
    red: ['tests/conversations/nothing-usable.play'],
  },
  {
    row: 'H39',
    file: 'flows/programme.yaml',
    is: 'alcohol-minimum: 20m',
    becomes: 'alcohol-minimum: 5m',
    red: ['tests/content/programme.test.ts › keeps slides in alcohol at least 15 minutes'],
  },
  {
    row: 'H40',
    file: 'src/clinical/sampling.ts',
    is: 'done.attempt >= Math.min(done.policyLimit, PASSES.most)',
    becomes: 'done.attempt > Math.max(done.policyLimit, PASSES.most)',
    red: ['tests/clinical/sampling.test.ts › %s: the doctor is asked'],
  },
  {
    row: 'H40',
    file: 'src/conversation/matters/hindrances.ts',
    is: 'return allowed < at && day(at) === day(moment.now);',
    becomes: 'return allowed < 0 && day(at) === day(moment.now);',
    red: ['tests/conversations/sos-then-no-more-needles.play'],
  },
  {
    row: 'H40',
    file: 'flows/sampling.yaml',
    is: 'timer.silent: { record: stopped-without-doctor, say: limit-silent, target: which-slides }',
    becomes: 'timer.silent: { record: stopped-without-doctor, say: limit-silent, target: one-more }',
    red: ['tests/conversations/too-many-attempts.play'],
  },
  {
    row: 'H41',
    file: 'src/clinical/gauge.ts',
    is: 'refusedFrom: 21',
    becomes: 'refusedFrom: 18',
    red: ['tests/conversations/no-fixative.play'],
  },
  {
    row: 'H41',
    file: 'locales/en/ready.json',
    is: 'Never {needleRefused}G or thicker. ',
    becomes: '',
    red: ['tests/conversations/no-fixative.play'],
  },
  {
    row: 'H42',
    file: 'src/conversation/matters/hindrances.ts',
    is: `  if (checks.includes('sore-skin')) found.push('sore-skin');
`,
    becomes: '',
    red: ['tests/conversations/sore-skin.play'],
  },
  {
    row: 'H42',
    file: 'src/conversation/matters/ready.ts',
    is: `        if (listAnswer(m, 'checks').includes('not-still')) return 'not-still';
`,
    becomes: '',
    red: ['tests/conversations/patient-cannot-keep-still.play'],
  },
  {
    row: 'H42',
    file: 'src/conversation/matters/hindrances.ts',
    is: "checks.includes('high-pressure') && textAnswer(moment, 'pressure') !== 'lower'",
    becomes: "checks.includes('high-pressure') && textAnswer(moment, 'pressure') === 'high'",
    red: ['tests/conversations/high-pressure-settles.play'],
  },
  {
    row: 'H43',
    file: 'src/conversation/matters/ready.ts',
    is: 'const same = got.value === m.specimen.code;',
    becomes: 'const same = got.value.length > 0;',
    red: ['tests/conversations/wrong-code-on-slide.play'],
  },
  {
    row: 'H43',
    file: 'flows/labelling.yaml',
    is: `      all-same: { record: labelled, target: next }
      not-same: doctor`,
    becomes: `      all-same: { record: labelled, target: next }
      not-same: { record: labelled, target: next }`,
    red: ['tests/conversations/label-mismatch.play'],
  },
  {
    row: 'H43',
    file: 'locales/en/labelling.json',
    is: 'NOT THE SAME: nobody gets up.',
    becomes: 'NOT THE SAME.',
    red: ['tests/conversations/label-mismatch.play'],
  },
  {
    row: 'H44',
    file: 'src/case/code.ts',
    is: `  if (checkDigits(payload) !== typed.slice(-2)) return { ok: false, reason: 'check-digits' };
`,
    becomes: '',
    red: [
      'tests/case/code.test.ts › every wrong digit is refused',
      'tests/case/code.test.ts › every swapped pair of different digits is refused, neighbours or not',
      'tests/conversations/swapped-pair.play',
    ],
  },
  {
    row: 'H44',
    file: 'src/case/code.ts',
    is: '(Number(payload) * 100) % 97',
    becomes: '(Number(payload) * 100) % 89',
    red: ['tests/published/case-code.test.ts › agree with another implementation over $what'],
  },
  {
    row: 'H45',
    file: 'src/conversation/answers/patient.ts',
    is: 'const birthYear = years[0] ?? null;',
    becomes: 'const birthYear = years[0] ?? (ages[0] === undefined ? null : thisYear - ages[0]);',
    red: [
      'tests/conversation/answers/patient.test.ts › never makes a birth year of an age',
      'tests/conversations/age-only.play',
    ],
  },
  {
    row: 'H46',
    file: 'src/clinical/needle-stick.ts',
    is: 'HIV_PROPHYLAXIS_HOURS = { best: 24, last: 72 }',
    becomes: 'HIV_PROPHYLAXIS_HOURS = { best: 24, last: 48 }',
    red: [
      'tests/clinical/needle-stick.test.ts › %s h after: HIV prophylaxis %s, hepatitis B %s',
      'tests/conversations/needle-stick.play',
    ],
  },
  {
    row: 'H46',
    file: 'src/clinical/needle-stick.ts',
    is: "if (hours === 'unknown' || !(hours >= 0)) {",
    becomes: "if (hours === 'unknown') {",
    red: ['tests/clinical/needle-stick.test.ts › a time of %s never closes the window'],
  },
  {
    row: 'H47',
    file: 'locales/en/posting.json',
    is: 'box, upright. To:',
    becomes: 'box. To:',
    red: [
      'tests/published/parcel-packing.test.ts › every parcel is a box, upright, marked as the programme has it and as local rules want',
    ],
  },
  {
    row: 'H47',
    file: 'locales/en/posting.json',
    is: 'Jar in bag + towel',
    becomes: 'Jar in bag',
    red: [
      'tests/published/parcel-packing.test.ts › a jar of alcohol stands in a second pack with something that soaks up, its lid taped',
    ],
  },
  {
    row: 'H48',
    file: 'src/conversation/matters/raise-alarm.ts',
    is: `  turn.say(interpreter.person, 'sos.first-aid', { frame, caseId: open.caseId, lane: 'sos' });
`,
    becomes: '',
    red: ['tests/conversations/sos-again-between-checks.play'],
  },
  {
    row: 'H48',
    file: 'flows/programme.yaml',
    is: 'sos-old: 1h',
    becomes: 'sos-old: 9h',
    red: ['tests/conversations/sos-old.play'],
  },
  {
    row: 'H48',
    file: 'src/conversation/alarm-digits.ts',
    is: "return traitsOf(turn.world.flows, frame).alarm === undefined ? 'reply' : 'sos';",
    becomes: "return traitsOf(turn.world.flows, frame).alarm === 'offered' ? 'sos' : 'reply';",
    red: [
      'tests/conversation/matters/alarm-lane.test.ts › goes in the lane of first aid, to the worker and to the doctor',
    ],
  },
  {
    row: 'H49',
    file: 'locales/en/sos.json',
    is: 'Growing, restless, cannot',
    becomes: 'Growing, cannot',
    red: ['tests/published/first-aid.test.ts › of %s says what is done and what sends the patient to hospital'],
  },
  {
    row: 'H49',
    file: 'src/clinical/adverse-events.ts',
    is: 'faint: [2, 5],',
    becomes: 'faint: [5],',
    red: [
      'tests/published/first-aid.test.ts › is asked again after %s at growing times',
      'tests/conversations/unwell-patient.play',
    ],
  },
  {
    row: 'H50',
    file: 'src/conversation/answer-alarm.ts',
    is: 'const proven = !provenAnswers.has(said.answer) || proves(thread, said);',
    becomes: 'const proven = provenAnswers.has(said.answer) || proves(thread, said);',
    red: [
      'tests/conversation/alarm-answers.test.ts › are repeated with their words when something else is sent, never as bare digits',
      'tests/refusals/forgery.test.ts › may raise an alarm and may not end it: three tries of nine thousand, then of nine hundred thousand',
    ],
  },
  {
    row: 'H50',
    file: 'src/conversation/alarm-digits.ts',
    is: 'const leastDigits = 4;',
    becomes: 'const leastDigits = 2;',
    red: [
      'tests/refusals/forgery.test.ts › may raise an alarm and may not end it: three tries of nine thousand, then of nine hundred thousand',
      'tests/conversations/sos-in-the-middle-and-back.play',
    ],
  },
  {
    row: 'H51',
    file: 'src/conversation/climb.ts',
    is: 'const next = fresh[0] ?? null;',
    becomes: 'const next = fresh[9] ?? null;',
    red: ['tests/conversations/doctor-ladder.play'],
  },
  {
    row: 'H51',
    file: 'locales/en/common.json',
    is: 'NO DOCTOR ANSWERS. Do not wait: call {voice} NOW',
    becomes: 'NO DOCTOR ANSWERS. I keep asking',
    red: ['tests/conversations/doctor-silent-all.play'],
  },
  {
    row: 'H51',
    file: 'src/conversation/climb.ts',
    is: `      turn.notify(
        'coordinators',
        'common.nobody-answers',`,
    becomes: `      turn.notify(
        'owner',
        'common.nobody-answers',`,
    red: ['tests/conversations/doctor-silent-all.play'],
  },
  {
    row: 'H52',
    file: 'src/conversation/promise.ts',
    is: "new Set(['call-me', 'go-there'])",
    becomes: "new Set(['go-there'])",
    red: [
      'tests/conversation/promise.test.ts › is a promise: the question stays open and comes one rung higher when its time is over',
      'tests/conversations/doctor-promise.play',
    ],
  },
  {
    row: 'H52',
    file: 'src/conversation/promise.ts',
    is: `  now: 'promise-now',
`,
    becomes: '',
    red: ['tests/conversation/promise.test.ts › in an alarm holds for minutes only, and a better patient ends it'],
  },
  {
    row: 'H53',
    file: 'src/conversation/matters/people.ts',
    is: `if (of && !alarm && !closed && !promised)
`,
    becomes: `if (of && alarm && !closed && !promised)
`,
    red: ['tests/conversations/wrong-reopens.play'],
  },
  {
    row: 'H53',
    file: 'src/conversation/matters/people.ts',
    is: ": 'people.hold';",
    becomes: ": 'people.hold-closed';",
    red: ['tests/conversations/wrong-reopens.play'],
  },
  {
    row: 'H54',
    file: 'src/clinical/observation.ts',
    is: "because.length > 0 ? 'long' : 'short'",
    becomes: "because.length > 9 ? 'long' : 'short'",
    red: ['tests/clinical/observation.test.ts › is long with %j'],
  },
  {
    row: 'H54',
    file: 'src/case/parcel.ts',
    is: 'if (of.practice || of.aftercare === null) return [];',
    becomes: 'if (of.practice) return [];',
    red: ['tests/conversations/early-post.play'],
  },
  {
    row: 'H54',
    file: 'src/conversation/matters/aftercare.ts',
    is: `        if (over === null || over <= lastFixedAt(m)) return 'enough';
        return m.now - over < long ? 'longer' : 'enough-after-alarm';`,
    becomes:
      "        return over === null || over <= lastFixedAt(m) || m.now - over > long ? 'enough' : 'enough-after-alarm';",
    red: [
      'tests/conversation/matters/aftercare.test.ts › when the watch may end',
      'tests/conversations/swelling-at-50-min.play',
    ],
  },
  {
    row: 'H55',
    file: 'flows/programme.yaml',
    is: 'neck-answer: 10m',
    becomes: 'neck-answer: 10h',
    red: ['tests/conversations/silence-about-the-neck.play'],
  },
  {
    row: 'H55',
    file: 'src/case/parcel.ts',
    is: 'if (of.practice || of.aftercare === null) return [];',
    becomes: 'if (of.practice) return [];',
    red: ['tests/conversations/silence-about-the-neck.play'],
  },
  {
    row: 'H56',
    file: 'locales/en/aftercare.json',
    is: 'breath well? SAY for {warnDays} days swelling, hard breathing or swallowing, new voice: come at once day or night.{resultDay}',
    becomes: 'breath well?{resultDay}',
    red: ['tests/conversations/blood-then-success.play', 'tests/conversations/straight.play'],
  },
  {
    row: 'H57',
    file: 'src/case/duty.ts',
    is: "rule('receipt', 'lab', 'receipt', 'duty-again', 'coordinator')",
    becomes: "rule('receipt', 'lab', 'duty-again', 'duty-again', 'worker')",
    red: [
      'tests/case/duty.test.ts › a receipt within 7 days of the post; a day later the coordinator hears too',
      'tests/conversations/silence-is-asked-for.play',
    ],
  },
  {
    row: 'H57',
    file: 'src/conversation/matters/posting.ts',
    is: 'if (readers.length === 0) {',
    becomes: 'if (readers.length < 0) {',
    red: ['tests/conversations/nobody-at-the-laboratory.play'],
  },
  {
    row: 'H58',
    file: 'src/case/duty.ts',
    is: "'duty-again', 'coordinator'), escalateWithin: 'result-supervisor' }",
    becomes: "'duty-again', 'coordinator'), escalateWithin: 'keep-closed' }",
    red: ['tests/conversations/silence-is-asked-for.play'],
  },
  {
    row: 'H58',
    file: 'locales/en/duty.json',
    is: 'No news is not good news.',
    becomes: '',
    red: ['tests/conversations/silence-is-asked-for.play'],
  },
  {
    row: 'H59',
    file: 'src/case/parcel.ts',
    is: 'if (of.practice || of.aftercare === null) return [];',
    becomes: 'if (of.aftercare === null) return [];',
    red: ['tests/case/parcel.test.ts › a practice case never goes'],
  },
  {
    row: 'H59',
    file: 'src/conversation/matters/posting.ts',
    is: `  if (of.practice) return 'posting.practice';
`,
    becomes: '',
    red: ['tests/conversations/practice-never-reaches-lab.play'],
  },
  {
    row: 'H60',
    file: 'src/conversation/matters/laboratory.ts',
    is: '  if (specimen.rejected !== null) {',
    becomes: '  if (specimen.rejected === null && specimen.locked) {',
    red: ['tests/conversations/bad-specimen.play'],
  },
  {
    row: 'H61',
    file: 'src/conversation/matters/receipt.ts',
    is: 'laboratoryPeople(turn.world, posted).some((one) => one.id === person.id)',
    becomes: "posted !== ''",
    red: ['tests/conversations/forged-laboratory.play'],
  },
  {
    row: 'H61',
    file: 'src/conversation/matters/laboratory.ts',
    is: "const before = index === 0 ? plain.slice(0, one.from) : '';",
    becomes: 'const before = plain.slice(0, one.from);',
    red: ['tests/conversation/matters/laboratory.test.ts › results in a text of the laboratory'],
  },
  {
    row: 'H62',
    file: 'src/clinical/cytology/parse.ts',
    is: "return asked(options.length > 0 ? 'bare-number' : 'no-such-code', digits[0], options);",
    becomes:
      "return options[0] ? understood(options[0], digits[0], '', []) : asked('no-such-code', digits[0], options);",
    red: [
      'tests/clinical/cytology/parse.test.ts › a bare number is asked back even from a laboratory whose system is known',
      'tests/conversations/bare-digit-asked-back.play',
    ],
  },
  {
    row: 'H62',
    file: 'src/clinical/cytology/crosswalk.ts',
    is: `Thy3f: { bethesda: 'IV', tir: 'TIR3B' },
  Thy4: { bethesda: 'V', tir: 'TIR4' },`,
    becomes: `Thy3f: { bethesda: 'V', tir: 'TIR3B' },
  Thy4: { bethesda: 'IV', tir: 'TIR4' },`,
    red: ['tests/published/cytology.test.ts › %s is %s, Bethesda %s, %s: %s'],
  },
  {
    row: 'H63',
    file: 'src/clinical/cytology/risk.ts',
    is: 'percent: UK_DEPARTMENT[code],',
    becomes: 'percent: pooled?.[0] ?? 0,',
    red: ['tests/published/cytology.test.ts › %s: operated %s %% and all cases stand apart'],
  },
  {
    row: 'H64',
    file: 'flows/read-back.yaml',
    is: '"yes": { record: read-back-lapsed, notify: { to: coordinators, text: phone-the-lab }, target: done }',
    becomes: '"yes": { record: read-back-lapsed, notify: { to: doctors, text: phone-the-lab }, target: done }',
    red: ['tests/conversations/lab-never-confirms.play'],
  },
  {
    row: 'H64',
    file: 'flows/programme.yaml',
    is: 'read-back-lapse: 24h',
    becomes: 'read-back-lapse: 90d',
    red: ['tests/conversations/lab-never-confirms.play'],
  },
  {
    row: 'H65',
    file: 'src/conversation/matters/filing.ts',
    is: 'if ((specimenOf(of, item)?.results.length ?? 0) > 1) {',
    becomes: 'if ((specimenOf(of, item)?.results.length ?? 0) > 9) {',
    red: ['tests/conversations/amended-result.play'],
  },
  {
    row: 'H65',
    file: 'locales/en/action.json',
    is: '" CORRECTED result, the first no longer counts."',
    becomes: '" Another result."',
    red: ['tests/conversations/amended-result.play'],
  },
  {
    row: 'H66',
    file: 'src/clinical/cytology/discordance.ts',
    is: `  weigh('tr5', 'TR5', findings.acrLevels);
`,
    becomes: '',
    red: ['tests/clinical/cytology/action.test.ts › %j contradicts it'],
  },
  {
    row: 'H66',
    file: 'src/conversation/matters/filing.ts',
    is: "return contradiction(of, item) === 'yes' ? 'discordant' : 'benign';",
    becomes: "return 'benign';",
    red: [
      'tests/conversation/matters/filing.test.ts › Thy2 does not reassure where there are danger signs',
      'tests/conversations/thy2-on-tr5.play',
    ],
  },
  {
    row: 'H66',
    file: 'locales/en/action.json',
    is: 'No cancer seen, no guarantee: sooner if it grows or danger sign.',
    becomes: 'No cancer seen.',
    red: ['tests/conversations/thy2.play'],
  },
  {
    row: 'H67',
    file: 'src/clinical/cytology/action.ts',
    is: 'if (earlierNonDiagnostic > 0 && isNonDiagnostic(category)) {',
    becomes: 'if (earlierNonDiagnostic > 1 && isNonDiagnostic(category)) {',
    red: ['tests/clinical/cytology/action.test.ts › a second %s is referred', 'tests/conversations/second-thy1.play'],
  },
  {
    row: 'H67',
    file: 'locales/en/action.json',
    is: '"why-unreadable": "Not readable, neither good nor bad"',
    becomes: '"why-unreadable": "Not readable"',
    red: ['tests/conversations/thy1.play'],
  },
  {
    row: 'H68',
    file: 'src/clinical/cytology/action.ts',
    is: `  secondChannel: true,
`,
    becomes: `  secondChannel: false,
`,
    red: [
      'tests/clinical/cytology/action.test.ts › %s: suspicion and cancer are acknowledged today and told by voice too',
    ],
  },
  {
    row: 'H68',
    file: 'src/conversation/matters/filing.ts',
    is: `  if (kind === 'urgent') askLater(turn, of, item);
`,
    becomes: '',
    red: ['tests/conversations/thy4.play', 'tests/conversations/thy5.play'],
  },
  {
    row: 'H69',
    file: 'src/conversation/matters/filing.ts',
    is: "kind === 'benign' ? null : questions[kind]",
    becomes: "kind === 'benign' || kind === 'refer' ? null : questions[kind]",
    red: ['tests/conversations/thy3a.play', 'tests/conversations/thy3f.play'],
  },
  {
    row: 'H70',
    file: 'src/conversation/matters/reach.ts',
    is: `if (length > 0 && length % limitOf(m.world.programme, 'reach-tries') === 0) return 'spent';
`,
    becomes: '',
    red: ['tests/conversations/patient-not-found.play'],
  },
  {
    row: 'H70',
    file: 'src/conversation/matters/reach.ts',
    is: "return length === 1 && isPressing(m) ? 'pressing' : 'again';",
    becomes: "return 'again';",
    red: ['tests/conversations/thy5.play'],
  },
  {
    row: 'H71',
    file: 'src/store/dialects/sqlite.ts',
    is: "db.pragma('synchronous = full');",
    becomes: "db.pragma('synchronous = off');",
    red: [
      'tests/store/sqlite-faults.test.ts › waits for the disk with each commit',
      'tests/store/durable.test.ts › every connection writes what it commits through to the disk, and overwrites what it erases',
    ],
  },
  {
    row: 'H71',
    file: 'src/observe/health.ts',
    is: `    dueLateMs <= lateAtMostMs &&
`,
    becomes: '',
    red: ['tests/observe/health.test.ts › health'],
  },
  {
    row: 'H72',
    file: 'src/conversation/late.ts',
    is: `  if (networkAt > turn.now + durationOf(programme, 'clock-offset')) return false;
`,
    becomes: `  if (networkAt > turn.now + durationOf(programme, 'clock-offset')) return true;
`,
    red: ['tests/conversation/hear.test.ts › sent %s: refused %s'],
  },
  {
    row: 'H72',
    file: 'src/text/time-words.ts',
    is: `    timeZone: zone,
`,
    becomes: `    timeZone: 'UTC',
`,
    red: [
      'tests/text/time-words.test.ts › say the time of day at the site',
      'tests/text/time-words.test.ts › follow summer time',
    ],
  },
  {
    row: 'H73',
    file: 'src/store/dialects/sqlite-lock.ts',
    is: "lock.exec('begin exclusive');",
    becomes: "lock.exec('begin');",
    red: ['tests/store/sqlite-faults.test.ts › belongs to one line at a time, and is free again after a kill'],
  },
  {
    row: 'H74',
    file: 'src/content/programme.ts',
    is: 'if (!(one.labId in laboratories)) {',
    becomes: 'if (one.labId === laboratories.constructor.name) {',
    red: ['tests/content/programme.test.ts › a programme is refused with line and hint for'],
  },
  {
    row: 'H74',
    file: 'src/config.ts',
    is: 'if (ours && !settingNames.includes(name)) faults',
    becomes: 'if (ours && name.length < 0) faults',
    red: ['tests/config.test.ts › refuse a name that is no setting'],
  },
  {
    row: 'H75',
    file: 'src/conversation/matters/pictures.ts',
    is: `    return say('ask.picture-rules');
`,
    becomes: `    return true;
`,
    red: [
      'tests/line/pictures.test.ts › where the programme allows it goes to the first doctor who can see it, with the words as a question',
    ],
  },
  {
    row: 'H75',
    file: 'src/conversation/matters/ask.ts',
    is: `  if (!first) {
`,
    becomes: `  if (!first || first.code === null) {
`,
    red: [
      'tests/line/pictures.test.ts › with a code that is wrong goes to nobody: it is not taken for the patient at hand',
    ],
  },
  {
    row: 'H27',
    file: 'src/conversation/hearing/copies.ts',
    is: 'const copy = before?.mark === mark || state.saidMarks?.includes(mark) === true;',
    becomes: 'const copy = before?.mark === mark;',
    red: ['tests/conversation/hear.test.ts › a machine that sends back what we said is answered no more'],
  },
  {
    row: 'H48',
    file: 'src/conversation/hearing/sos-spelling.ts',
    is: 'return together.test(folded) || withDigit.test(folded) || apart.test(folded) || folded.includes(sign);',
    becomes: 'return together.test(folded);',
    red: ['tests/conversation/plain-words.test.ts › is heard in %j'],
  },
  {
    row: 'H49',
    file: 'src/conversation/answer-alarm.ts',
    is: `  if (saysUndenied(text, language.answers.worse, language)) return { answer: 'worse', digits: '' };
`,
    becomes: '',
    red: ['tests/conversation/alarm-answers.test.ts › %j raises it between two checks, too'],
  },
  {
    row: 'H51',
    file: 'src/conversation/matters/alarm-told.ts',
    is: "const first = quotedWords(names[0] ?? '', longestName);",
    becomes: 'const first = quotedWords(String(names.length), longestName);',
    red: ['tests/conversations/doctor-ladder.play'],
  },
  ...alarmDefences,
];
