/**
 * Who must hear an SOS, worked out a second time from the roster alone and without the line's own code: the rules are
 * those of the programme (a doctor first, the coordinators where no doctor can be reached, nobody answers themselves).
 */
import type { Programme } from '../../src/conversation/programme.ts';
import type { Person } from '../../src/conversation/world.ts';

export interface Expected {
  /** Must be texted at once. */
  readonly must: readonly Person[];
  /** May be texted besides: doctors who know of this phone's alarm already. */
  readonly may: readonly Person[];
}

/** `alarmOpen`: this phone has an alarm that is not over, of which doctors have been told before. */
export function respondersTo(
  sender: Person,
  roster: readonly Person[],
  programme: Programme,
  now: number,
  alarmOpen: boolean,
): Expected {
  const others = roster.filter((one) => one.id !== sender.id && one.state === 'joined' && one.addresses.length > 0);
  const coordinators = others.filter((one) => one.roles.includes('coordinator'));
  const stranger = sender.state === 'invited' || sender.state === 'suspended';
  if (stranger) return { must: coordinators, may: [] };
  const doctors = others.filter((one) => one.roles.includes('doctor'));
  if (doctors.length === 0) return { must: coordinators, may: [] };
  if (alarmOpen) return { must: [], may: doctors };
  const order = [...doctors].sort((a, b) => {
    const away = Number(isOff(a, programme, now)) - Number(isOff(b, programme, now));
    return away || a.rank - b.rank || (a.id < b.id ? -1 : 1);
  });
  return { must: order.slice(0, 1), may: [] };
}

/** Off duty by word, or outside of the hours given. */
function isOff(doctor: Person, programme: Programme, now: number): boolean {
  if ((doctor.offUntil ?? 0) > now) return true;
  if (!doctor.dutyHours) return false;
  const zone = programme.sites.find((one) => one.id === doctor.siteId)?.zone ?? programme.zone;
  const hour = Number(new Intl.DateTimeFormat('en-GB', { timeZone: zone, hour: '2-digit', hour12: false }).format(now));
  const { from, to } = doctor.dutyHours;
  const within = from < to ? hour >= from && hour < to : hour >= from || hour < to;
  return !within;
}
