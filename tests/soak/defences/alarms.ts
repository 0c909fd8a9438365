import type { Defence } from './defence.ts';

/** What holds the rows of "The alarm itself" in deploy/hazards.md. */
export const alarmDefences: readonly Defence[] = [
  {
    row: 'H76',
    file: 'src/store/waits.ts',
    is: `and due_at - \${now} > wait`,
    becomes: `and due_at - \${now} > wait and wait < 0`,
    red: ['tests/line/clock-set.test.ts › back by 48 h, with a restart: %s: an open alarm goes on within its minutes'],
  },
  {
    row: 'H76',
    file: 'src/conversation/matters/raise-alarm.ts',
    is: 'if (at <= turn.now || toldAt > turn.now ||',
    becomes: 'if (at <= turn.now ||',
    red: ['tests/line/clock-set.test.ts › back by 48 h, with a restart: %s: an open alarm goes on within its minutes'],
  },
  {
    row: 'H76',
    file: 'src/line/deliver.ts',
    is: 'if (parts.jump.happened()) {',
    becomes: 'if (parts.jump.happened() && now < 0) {',
    red: [
      'tests/line/clock-set.test.ts › by %i h, with a restart: %s: first aid leaves, and /health says so while it does not',
    ],
  },
  {
    row: 'H76',
    file: 'src/store/store.ts',
    is: `        yield* boundWaits(waitRows, now);
`,
    becomes: '',
    red: [
      'tests/line/clock-set.test.ts › by %i h, with a restart: %s: first aid leaves, and /health says so while it does not',
    ],
  },
  {
    row: 'H76',
    file: 'src/store/waits.ts',
    is: `where status = 'queued' and (\${tooLong})`,
    becomes: `where status = 'queued' and \${now} < 0 and (\${tooLong})`,
    red: [
      'tests/contract/store-sending.ts › a clock that was set back leaves no text waiting for longer than its reason allows',
    ],
  },
  {
    row: 'H76',
    file: 'src/line/clock-jump.ts',
    is: `    this.offset = offset;
`,
    becomes: '',
    red: ['tests/line/clock-set.test.ts › is noticed once, also when it was set in many small steps'],
  },
  {
    row: 'H76',
    file: 'src/observe/health.ts',
    is: "new Set(['sos', 'reply'])",
    becomes: 'new Set([])',
    red: [
      'tests/line/clock-set.test.ts › by %i h, with a restart: %s: first aid leaves, and /health says so while it does not',
    ],
  },
  {
    row: 'H77',
    file: 'src/line/handle.ts',
    is: 'const order = [...this.waiting.filter((one) => one.alarm), ...this.waiting.filter((one) => !one.alarm)];',
    becomes: 'const order = [...this.waiting];',
    red: [
      'tests/line/order.test.ts › an SOS behind 300 ordinary texts is handled right after the group under way, as a text and as a tap',
    ],
  },
  {
    row: 'H77',
    file: 'src/line/is-alarm.ts',
    is: "if (event.kind === 'tap') return alarmIn(event.reply, languages) !== null;",
    becomes: "if (event.kind === 'tap') return false;",
    red: [
      'tests/line/order.test.ts › an SOS behind 300 ordinary texts is handled right after the group under way, as a text and as a tap',
    ],
  },
  {
    row: 'H77',
    file: 'src/store/outbox.ts',
    is: 'a.lane - b.lane || a.place - b.place || turnOf(a) - turnOf(b) || a.seq - b.seq',
    becomes: 'a.lane - b.lane || turnOf(a) - turnOf(b) || a.seq - b.seq',
    red: [
      'tests/contract/store-sending.ts › the first text of an alarm goes before what is said of alarms again, to the same person too',
    ],
  },
  {
    row: 'H77',
    file: 'src/store/outbox.ts',
    is: 'turnOf(a) - turnOf(b) ||',
    becomes: '',
    red: ['tests/contract/store-sending.ts › people of one lane take turns, however much one of them waits for'],
  },
  {
    row: 'H77',
    file: 'src/store/outbox.ts',
    is: '(free <= 0 && one.place > 0)',
    becomes: 'free <= 0',
    red: [
      'tests/contract/store-sending.ts › a channel gets no more than it has room for, but for the first text of an alarm',
    ],
  },
  {
    row: 'H77',
    file: 'src/store/messages.ts',
    is: 'place: message.first ? 0 : 1,',
    becomes: 'place: 1,',
    red: [
      'tests/line/order.test.ts › 100 repeats from one phone delay another clinic`s first aid and its doctor by two texts at most',
      'tests/line/order.test.ts › 600 strangers who send SOS delay it by two texts at most',
    ],
  },
  {
    row: 'H77',
    file: 'src/line/room.ts',
    is: 'const quick = tookMs <= base * slowTimes + slowMs;',
    becomes: 'const quick = tookMs >= 0 || base > slowTimes + slowMs;',
    red: ['tests/line/order.test.ts › 600 strangers who send SOS delay it by two texts at most'],
  },
  {
    row: 'H77',
    file: 'src/conversation/matters/raise-alarm.ts',
    is: 'if (at <= turn.now || toldAt > turn.now ||',
    becomes: 'if (at > 0 ||',
    red: ['tests/conversations/sos-repeated.play'],
  },
  {
    row: 'H77',
    file: 'src/conversation/unknown-alarms.ts',
    is: '(clockSet || toldAt + pauseMs <= turn.now) && waiting.length === 0',
    becomes: 'toldAt <= turn.now + pauseMs',
    red: [
      'tests/conversation/alarm-answers.test.ts › reach a coordinator as one at once and all the others by number, each screen complete alone',
    ],
  },
  {
    row: 'H77',
    file: 'src/store/outbox.ts',
    is: '(a, b) => a.lane - b.lane ||',
    becomes: '(a, b) =>',
    red: [
      'tests/contract/store-sending.ts › first aid of one person goes before the answers and news of others, though they were said before',
    ],
  },
  {
    row: 'H77',
    file: 'src/store/outbox.ts',
    is: 'order by m.lane, m.place, m.seq limit',
    becomes: 'order by m.seq limit',
    red: ['tests/line/order.test.ts › 600 strangers who send SOS delay it by two texts at most'],
  },
  {
    row: 'H78',
    file: 'src/line/handle.ts',
    is: 'if (this.onReserve && !goesOnReserve(event, change, this.languages))',
    becomes: 'if (false as boolean)',
    red: [
      'tests/line/full-disk.test.ts › takes an SOS, tells the doctor and takes the answer; other texts wait at the network',
    ],
  },
  {
    row: 'H78',
    file: 'src/store/store.ts',
    is: 'if (!isFull(thrown) || !spare) return false;',
    becomes: 'if (isFull(thrown) || !spare) return false;',
    red: [
      'tests/line/full-disk.test.ts › takes an SOS, tells the doctor and takes the answer; other texts wait at the network',
      'tests/line/full-disk.test.ts › the very SOS that finds no room is taken',
    ],
  },
  {
    row: 'H78',
    file: 'src/line/reserve.ts',
    is: "change.questions.some((one) => one.value.urgency === 'now') ||",
    becomes: 'false ||',
    red: [
      'tests/line/full-disk.test.ts › takes an SOS, tells the doctor and takes the answer; other texts wait at the network',
    ],
  },
  {
    row: 'H78',
    file: 'src/store/spare-file.ts',
    is: `      rmSync(file, { force: true });
      return true;`,
    becomes: '      return true;',
    red: ['tests/line/full-disk.test.ts › is made in full, given back once, and made again'],
  },
  {
    row: 'H79',
    file: 'src/store/replace.ts',
    is: "update messages set status = 'replaced'",
    becomes: 'update messages set status = status',
    red: [
      'tests/line/outage.test.ts › a new alarm goes first to everybody, and nothing that a later text replaced is sent',
      'tests/contract/store-sending.ts › a text that a later one about the same replaced is not sent, and keeps its place',
    ],
  },
  {
    row: 'H79',
    file: 'src/line/deliver.ts',
    is: 'if (since !== undefined && steady() - since >= outageMs)',
    becomes: 'if (since !== undefined && steady() - since < 0)',
    red: [
      'tests/line/outage.test.ts › a new alarm goes first to everybody, and nothing that a later text replaced is sent',
    ],
  },
  {
    row: 'H80',
    file: 'locales/en/alarm.json',
    is: '|choking|chokes|choke|choked|',
    becomes: '|',
    red: ['tests/hearing/corpus.test.ts › %j is %s'],
  },
  {
    row: 'H80',
    file: 'src/conversation/hearing/cry.ts',
    is: 'if (denial.to > cry.from) return false;',
    becomes: 'if (denial.to >= 0) return false;',
    red: ['tests/hearing/corpus.test.ts › %j is %s', 'tests/conversations/cry-in-plain-words.play'],
  },
  {
    row: 'H80',
    file: 'src/conversation/hearing/phrases.ts',
    is: 'const leastLetters = 5;',
    becomes: 'const leastLetters = 50;',
    red: ['tests/hearing/slips.test.ts › in a word of five letters or more keeps every cry what it is'],
  },
  {
    row: 'H80',
    file: 'src/conversation/hear-alarm.ts',
    is: "const heard = elsewhere ? (saysSos(text) ? 'sos' : null) : alarmHeard(turn, person, text);",
    becomes: 'const heard = alarmHeard(turn, person, text);',
    red: ['tests/hearing/questions.test.ts › to any question that is asked, in any of its words, raises nothing there'],
  },
  {
    row: 'H80',
    file: 'flows/cry.yaml',
    is: 'transitions: { timer.silent: { flow: sos } }',
    becomes: 'transitions: { timer.silent: waits }',
    red: ['tests/conversations/cry-that-may-be-one.play'],
  },
  {
    row: 'H81',
    file: 'src/conversation/matters/raise-alarm.ts',
    is: '  sayWhoHears(turn, interpreter, frame);\n',
    becomes: '',
    red: ['tests/conversations/sos-nobody-reached.play'],
  },
  {
    row: 'H81',
    file: 'src/conversation/matters/alarm-told.ts',
    is: 'const asked = isTexted ? question.askedOf : [];',
    becomes: "const asked = ['d', ...(isTexted ? question.askedOf : [])];",
    red: ['tests/conversation/alarm-answers.test.ts › nobody where nobody can be reached, and the sender reads that'],
  },
  {
    row: 'H81',
    file: 'flows/sos.yaml',
    is: `      somebody: { say: reached, target: sign }
      nobody: { say: nobody, target: sign }`,
    becomes: `      somebody: { say: reached, target: sign }
      nobody: { say: reached, target: sign }`,
    red: [
      'tests/conversation/alarm-answers.test.ts › nobody where nobody can be reached, and the sender reads that',
      'tests/conversations/sos-nobody-reached.play',
    ],
  },
  {
    row: 'H81',
    file: 'src/conversation/people.ts',
    is: "return { as: coordinators.length > 0 ? 'coordinators' : 'nobody', people: coordinators };",
    becomes: "return { as: coordinators.length > 0 ? 'coordinators' : 'nobody', people: coordinators.slice(1) };",
    red: ['tests/conversations/stop-and-start.play', 'tests/conversations/join.play'],
  },
  {
    row: 'H81',
    file: 'src/conversation/without-state.ts',
    is: "names.length > 0 ? 'aside.told' : 'aside.told-nobody'",
    becomes: "names.length >= 0 ? 'aside.told' : 'aside.told-nobody'",
    red: [
      'tests/conversation/without-state.test.ts › names nobody as told where no doctor and no coordinator can be reached',
    ],
  },
  {
    row: 'H81',
    file: 'locales/en/sos.json',
    is: 'No answer yet. Do not wait for it.',
    becomes: 'Doctor alerted.',
    red: [
      'tests/conversation/matters/alarm-texts.test.ts › never says that a doctor was alerted',
      'tests/conversations/sos-nobody-reached.play',
    ],
  },
  {
    row: 'H82',
    file: 'src/channels/sms/door.ts',
    is: 'return told ? why : 503;',
    becomes: 'return told ? 200 : 503;',
    red: ['tests/channels/sms/door.test.ts › is not answered 200, and people hear of it: %s'],
  },
  {
    row: 'H82',
    file: 'src/channels/sms/door.ts',
    is: 'return told ? why : 503;',
    becomes: 'return why ?? (told ? 200 : 503);',
    red: ['tests/channels/sms/door.test.ts › comes again at once when nobody could be told of it'],
  },
  {
    row: 'H82',
    file: 'src/channels/sms/call-fields.ts',
    is: "return /^\\s*[[{]/.test(body) ? 'json' : 'plain';",
    becomes: "return 'plain';",
    red: ['tests/channels/sms/door.test.ts › has them read: %s'],
  },
  {
    row: 'H82',
    file: 'src/channels/sms/call-fields.ts',
    is: 'const items = Array.isArray(listed) ? listed : [listed];',
    becomes: 'const items = Array.isArray(listed) ? listed.slice(0, 1) : [listed];',
    red: ['tests/channels/sms/door.test.ts › may bring several in one call: %s'],
  },
  {
    row: 'H82',
    file: 'src/channels/sms/unreadable.ts',
    is: 'sos: seen.some(saysSos),',
    becomes: 'sos: saysSos(body),',
    red: ['tests/channels/sms/door.test.ts › shows an SOS and the numbers in it: %s'],
  },
  {
    row: 'H82',
    file: 'src/line/unreadable-calls.ts',
    is: 'const alarmed = !call.sos || (await this.alarm(call, now));',
    becomes: 'const alarmed = now > 0;',
    red: [
      'tests/line/unreadable-calls.test.ts › with an SOS are an alarm at once, with the number, and once more each hour that the gateway brings it',
    ],
  },
  {
    row: 'H83',
    file: 'deploy/kannel.conf',
    is: 'sms-combine-concatenated-mo = false',
    becomes: 'sms-combine-concatenated-mo = true',
    red: [
      'tests/gateway/long-texts.test.ts › an SOS in a part is first aid within seconds, though another part is lost for good and the last one comes late',
    ],
  },
  {
    row: 'H83',
    file: 'src/conversation/hear.ts',
    is: `    if (part) giveUp(turn, part);
`,
    becomes: '',
    red: [
      'tests/line/parts.test.ts › is first aid at once when SOS is read in a part, and the rest of it changes nothing',
    ],
  },
  {
    row: 'H83',
    file: 'src/conversation/hear.ts',
    is: 'part && alone === null ? withNeighbours(turn, part, event.text) : event.text',
    becomes: 'event.text',
    red: [
      'tests/line/parts.test.ts › is first aid when the word is cut by the end of a part and the rest of the text never comes',
    ],
  },
  {
    row: 'H83',
    file: 'src/conversation/parts.ts',
    is: 'return { text: inOrder(texts, set.total),',
    becomes: "return { text: Object.values(texts).reverse().join(''),",
    red: ['tests/line/parts.test.ts › is read once it is whole: %s'],
  },
  {
    row: 'H83',
    file: 'src/conversation/parts.ts',
    is: `  turn.say(person, 'common.unreadable-part', { frame: null, caseId: askingThread(turn)?.caseId ?? null });
`,
    becomes: '',
    red: ['tests/line/parts.test.ts › is waited for without a word, and asked for again when a part stays away'],
  },
  {
    row: 'H84',
    file: 'src/conversation/hear-quote.ts',
    is: `  if (asked) new Interpreter(turn, person).raise(asked.id);
`,
    becomes: '',
    red: [
      'tests/conversation/hear-quote.test.ts › answers that question and not the one that was asked last',
      'tests/channels/telegram/replies.test.ts › has its own question answered, also after a restart: no other patient becomes an emergency',
    ],
  },
  {
    row: 'H84',
    file: 'src/conversation/hear-quote.ts',
    is: "asked ? 'question' : 'old-question'",
    becomes: "'question'",
    red: [
      'tests/conversation/hear-quote.test.ts › that was answered changes nothing, says so, and asks the open question again',
      'tests/channels/telegram/replies.test.ts › has its own question answered, also after a restart: no other patient becomes an emergency',
    ],
  },
  {
    row: 'H84',
    file: 'src/channels/telegram/update.ts',
    is: 'if (forwardMarks.some((name) => message[name] !== undefined)) {',
    becomes: 'if (forwardMarks.length === 0) {',
    red: ['tests/channels/telegram/replies.test.ts › that was forwarded answers nothing, and is told so'],
  },
  {
    row: 'H85',
    file: 'src/store/shut.ts',
    is: `    if (isShut(thrown)) return null;
`,
    becomes: '',
    red: [
      'tests/line/damaged.test.ts › that does not open in any way mutes nobody: whoever had it hears once, the coordinators too',
      'tests/line/damaged.test.ts › begins anew: its person hears what to do, TAKE goes on with the patient',
    ],
  },
  {
    row: 'H85',
    file: 'src/line/set-aside.ts',
    is: "const made = way === 'alone' ? nothing : await answerOf(parts, event);",
    becomes: "const made = way === 'alone' ? await answerOf(parts, event) : nothing;",
    red: [
      'tests/line/damaged.test.ts › sends SOS: first aid at once, and doctors and coordinators hear whom to phone',
      'tests/line/damaged.test.ts › answers an SOS all the same, by the name and the number of the sender',
    ],
  },
  {
    row: 'H85',
    file: 'src/conversation/without-state.ts',
    is: `  aside.tellCoordinators('aside.for-coordinator', addressee(aside, event).name);
`,
    becomes: '',
    red: ['tests/conversation/without-state.test.ts › any other gets one answer in some minutes, an alarm always'],
  },
  {
    row: 'H85',
    file: 'src/conversation/without-state.ts',
    is: 'for (const one of [...doctors, ...coordinators]) sayTo',
    becomes: 'for (const one of doctors.slice(0, 1)) sayTo',
    red: [
      'tests/conversation/without-state.test.ts › an SOS gets first aid in the first lane, and every responder hears whom to phone',
    ],
  },
  {
    row: 'H85',
    file: 'src/store/pointers.ts',
    is: 'export function* mendPointers(statements: PointerStatements, caseId: string, at: number): Steps<void> {',
    becomes:
      'export function* mendPointers(statements: PointerStatements, caseId: string, at: number): Steps<void> { if (at > 0) return;',
    red: [
      'tests/cli/operations.test.ts › a case that the list erases again in an older copy leaves nobody with a pointer to nothing',
    ],
  },
  {
    row: 'H85',
    file: 'src/store/store.ts',
    is: 'const faults = [...found.faults, ...pointers, ...tables];',
    becomes: 'void pointers;\n    const faults = [...found.faults, ...tables];',
    red: [
      'tests/cli/operations.test.ts › audit verify says with exit 1 where a conversation points to nothing, and who mends it',
    ],
  },
];
