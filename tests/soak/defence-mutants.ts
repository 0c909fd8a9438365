/** A defence of this line taken away, and the test that must notice. */
export interface DefenceMutant {
  readonly name: string;
  readonly file: string;
  /** Stands in the file exactly once. */
  readonly from: string;
  readonly to: string;
  /** Turns red. */
  readonly test: string;
}

export const defenceMutants: readonly DefenceMutant[] = [
  {
    name: 'commits are not written through to the disk',
    file: 'src/store/dialects/sqlite.ts',
    from: "db.pragma('synchronous = full');",
    to: "db.pragma('synchronous = off');",
    test: 'tests/store/durable.test.ts',
  },
  {
    name: 'erased bytes are not overwritten',
    file: 'src/store/dialects/sqlite.ts',
    from: "db.pragma('secure_delete = fast');",
    to: "db.pragma('secure_delete = off');",
    test: 'tests/store/durable.test.ts',
  },
  {
    name: 'the log keeps what was erased',
    file: 'src/store/dialects/sqlite.ts',
    from: "hot.pragma('wal_checkpoint(truncate)');",
    to: '',
    test: 'tests/store/durable.test.ts',
  },
  {
    name: '/health answers everybody',
    file: 'src/cli/http-server.ts',
    from: "return from === '127.0.0.1' || from === '::1' || from === '::ffff:127.0.0.1';",
    to: "return from !== '';",
    test: 'tests/cli/health-door.test.ts',
  },
  {
    name: 'an SOS waits behind ordinary texts in the handler',
    file: 'src/line/handle.ts',
    from: 'rank: isAlarm(one.event) ? 0 : 1',
    to: 'rank: 1',
    test: 'tests/line/order.test.ts',
  },
  {
    name: 'a tapped SOS waits behind ordinary texts',
    file: 'src/line/is-alarm.ts',
    from: "if (event.kind === 'tap') return saysSos(event.reply);",
    to: "if (event.kind === 'tap') return false;",
    test: 'tests/line/order.test.ts',
  },
  {
    name: 'texts go out in the order in which they were said',
    file: 'src/store/outbox.ts',
    from: 'a.lane - b.lane || a.place - b.place ||',
    to: '',
    test: 'tests/store/contract-sqlite.test.ts',
  },
  {
    name: 'the first text of an alarm waits behind repeats',
    file: 'src/store/messages.ts',
    from: 'place: message.first ? 0 : 1,',
    to: 'place: 1,',
    test: 'tests/line/order.test.ts',
  },
  {
    name: 'whoever has more texts waiting goes first',
    file: 'src/store/outbox.ts',
    from: 'turnOf(a) - turnOf(b) ||',
    to: '',
    test: 'tests/store/contract-sqlite.test.ts',
  },
  {
    name: 'a slow channel is filled to the brim',
    file: 'src/line/room.ts',
    from: 'const quick = tookMs <= base * slowTimes + slowMs;',
    to: 'const quick = tookMs >= 0 || base > slowTimes + slowMs;',
    test: 'tests/line/order.test.ts',
  },
  {
    name: 'what a later text replaced is sent',
    file: 'src/store/replace.ts',
    from: "update messages set status = 'replaced'",
    to: 'update messages set status = status',
    test: 'tests/store/contract-sqlite.test.ts',
  },
  {
    name: 'a wait is as long as the clock was set back',
    file: 'src/line/deliver.ts',
    from: 'if (parts.jump.happened()) {',
    to: 'if (parts.jump.happened() && now < 0) {',
    test: 'tests/line/clock-set.test.ts',
  },
  {
    name: 'a restart forgets that the clock was set back',
    file: 'src/store/store.ts',
    from: 'yield* boundWaits(waitRows, now);',
    to: '',
    test: 'tests/line/clock-set.test.ts',
  },
  {
    name: '/health does not see urgent texts that wait',
    file: 'src/observe/health.ts',
    from: "new Set(['sos', 'reply'])",
    to: 'new Set([])',
    test: 'tests/line/clock-set.test.ts',
  },
  {
    name: 'after an outage each text waits for the end of its own pause',
    file: 'src/line/deliver.ts',
    from: 'if (since !== undefined && steady() - since >= outageMs)',
    to: 'if (since !== undefined && steady() - since < 0)',
    test: 'tests/line/outage.test.ts',
  },
  {
    name: 'a full disk stores ordinary texts on what is held for alarms',
    file: 'src/line/handle.ts',
    from: 'if (this.onReserve && !goesOnReserve(event, change))',
    to: 'if (false as boolean)',
    test: 'tests/line/full-disk.test.ts',
  },
  {
    name: 'a full disk gives nothing back',
    file: 'src/store/store.ts',
    from: 'if (!isFull(thrown) || !spare) return false;',
    to: 'if (isFull(thrown) || !spare) return false;',
    test: 'tests/line/full-disk.test.ts',
  },
  {
    name: 'unknown senders get as many answers as they like',
    file: 'src/conversation/strangers.ts',
    from: "if (turn.world.strangersToday >= limitOf(turn.world.programme, 'strangers-a-day') && !first) return;",
    to: '',
    test: 'tests/line/strangers.test.ts',
  },
  {
    name: 'a stored case that its history does not give passes',
    file: 'src/store/verify.ts',
    from: "if (canonical(stored) !== canonical(fold)) faults.push('the stored case is not what its history gives');",
    to: 'canonical(stored);',
    test: 'tests/store/durable.test.ts',
  },
  {
    name: 'a backup that was cut short passes',
    file: 'src/store/backup-seal.ts',
    from: 'nonce[11] = last ? 1 : 0;',
    to: 'nonce[11] = last ? 0 : 0;',
    test: 'tests/store/backup.test.ts',
  },
];
