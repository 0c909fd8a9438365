import type { GatewayMapping } from './mapping.ts';

/**
 * Kannel 1.4.5, as observed (its user guide, chapters on smsbox and delivery reports): POST with the text as the body
 * and all else in headers, so that no address and no log line holds a text. Reports: 1 delivered, 2 failed, 4 waits,
 * 8 taken by the network, 16 refused by the network.
 */
export const kannel: GatewayMapping = {
  name: 'kannel',
  inbound: {
    each: null,
    from: 'from',
    to: 'to',
    id: 'id',
    time: 'time',
    timeUnit: 'seconds',
    text: null,
    header: 'udh',
  },
  // `%t %l [SMSC:%i] [id:%I] [from:%p] [to:%P] [len:%L]` behind the log's own time. The second time is the network's, in
  // UTC, and the id the one of the call, as observed; a text thrown away for lack of room stands there as DROPPED.
  accessLog: {
    line: String.raw`^\S+ \S+ (?<time>\d{4}-\d\d-\d\d \d\d:\d\d:\d\d) (?:Receive|DROPPED Received) SMS \[SMSC:[^\]]*\] \[id:(?<id>[^\]]*)\] \[from:(?<from>[^\]]*)\] \[to:[^\]]*\] \[len:(?<size>\d+)\]`,
    time: 'written',
  },
  report: {
    each: null,
    reference: 'ref',
    status: 'status',
    statusHole: '%d',
    accepted: ['4', '8'],
    delivered: ['1'],
    failed: ['2', '16'],
  },
  send: {
    body: 'text',
    put: {
      to: 'X-Kannel-To',
      from: 'X-Kannel-From',
      coding: 'X-Kannel-Coding',
      validityMinutes: 'X-Kannel-Validity',
      priority: 'X-Kannel-Priority',
      reportUrl: 'X-Kannel-DLR-Url',
      user: 'X-Kannel-Username',
      password: 'X-Kannel-Password',
    },
    numbers: [],
    fixed: { 'X-Kannel-DLR-Mask': '31' },
    headers: {},
    basic: false,
    coding: { 'GSM-7': '0', 'UCS-2': '2' },
    priority: { sos: '3', reply: '2', notice: '1', reminder: '0' },
    taken: [200, 202],
    result: null,
    later: [401, 403, 404, 429, 503],
    never: [400],
    joins: true,
    partsAtMost: 10,
  },
};
