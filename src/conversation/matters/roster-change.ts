/** A change of the roster as small working values of a frame: whether it may be done, and what it does. */

import { isRole } from '../../case/roles.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { proofFor, type RosterAct, rosterActs, seconds } from '../authority.ts';
import { type ChannelName, canBeDialled } from '../channel-facts.ts';
import type { AwayWhy } from '../event.ts';
import { lastOf } from '../last-one.ts';
import type { Act, Moment } from '../moment.ts';
import { personById, withRole } from '../people.ts';
import { durationOf } from '../programme.ts';
import type { Frame } from '../state.ts';
import type { Person, Role, World } from '../world.ts';

/** What a coordinator wants, read from the frame of `staff` or `second`. */
export interface Wanted {
  readonly act: RosterAct;
  /** Whom it is about; null = somebody new. */
  readonly person: Person | null;
  readonly name: string;
  readonly roles: readonly Role[];
  readonly shared: boolean;
  readonly address: string;
  readonly siteId: string;
  readonly heir: Person | null;
  /** Who asked first. */
  readonly first: Person | null;
}

/** Reads the frame; the person as the roster has them now. */
export function wantedOf(world: World, { vars }: Frame): Wanted {
  const text = (name: string): string => (typeof vars[name] === 'string' ? vars[name] : '');
  const person = personById(world, text('personId'));
  const roles = text('roles').split('+').filter(isRole);
  return {
    act: rosterActs.find((one) => one === text('act')) ?? 'add',
    person,
    name: person?.name ?? text('name'),
    roles: person?.roles ?? roles,
    shared: person?.shared ?? vars.shared === true,
    address: text('address'),
    siteId: person?.siteId ?? text('site'),
    heir: personById(world, text('heirId')),
    first: personById(world, text('firstId')),
  };
}

/** Who holds a number now; those off the line do not count where the number is to be used anew. */
function holderOf(world: World, address: string): Person | null {
  const holders = world.roster.filter((one) => one.addresses.some((at) => at.address === address));
  return holders.find((one) => one.state !== 'suspended') ?? holders[0] ?? null;
}

/** A worker invited at this number who never joined: invited anew, and the former join number no longer counts. */
function invitedBefore(world: World, address: string): Person | null {
  const found = holderOf(world, address);
  return found?.state === 'invited' && found.roles.every((one) => one === 'worker') ? found : null;
}

/** Why a change cannot be made: the ending of its text `staff.no-…`. */
export type Refusal = 'address-taken' | 'gone' | 'off' | 'last' | 'stopped' | 'on' | 'heir';

/** Why a change cannot be made as things stand; null = it can. */
export function refusalOf(world: World, wanted: Wanted): Refusal | null {
  const { act, person, address } = wanted;
  if (act === 'add') return holderOf(world, address) === null || invitedBefore(world, address) ? null : 'address-taken';
  if (!person) return 'gone';
  switch (act) {
    case 'change': {
      const holder = holderOf(world, address);
      return holder === null || (holder.id === person.id && person.state === 'suspended') ? null : 'address-taken';
    }
    case 'suspend':
    case 'lost':
      if (person.state === 'suspended') return 'off';
      return lastOf(world, person) === null ? null : 'last';
    case 'restore': {
      if (person.state === 'stopped') return 'stopped';
      if (person.state !== 'suspended') return 'on';
      const taken = person.addresses.some((at) => holderOf(world, at.address)?.id !== person.id);
      // Without an address: the roster file gave it to somebody else.
      return taken || person.addresses.length === 0 ? 'address-taken' : null;
    }
    case 'fresh':
      return person.state === 'suspended' ? 'off' : null;
    case 'hand-over': {
      const { heir } = wanted;
      const fits = heir?.state === 'joined' && heir.roles.includes('worker') && heir.siteId === person.siteId;
      return fits && heir.id !== person.id && person.roles.includes('worker') ? null : 'heir';
    }
  }
}

/** Who is asked as the second: every other coordinator, the doctors where there is none. Never the person concerned. */
export function secondsFor(world: World, first: Person, about: Person | null): readonly Person[] {
  for (const role of seconds) {
    const free = withRole(world, role).filter((one) => one.id !== first.id && one.id !== about?.id);
    if (free.length > 0) return free;
  }
  return [];
}

/** Weighs a change once its first digits were sent. */
export function weigh(moment: Moment): 'alone' | 'second' | 'nobody' | 'refused' {
  const wanted = wantedOf(moment.world, moment.frame);
  if (refusalOf(moment.world, wanted) !== null) return 'refused';
  if (proofFor(wanted.act, wanted.roles) !== 'two-people') return 'alone';
  return secondsFor(moment.world, moment.person, wanted.person).length > 0 ? 'second' : 'nobody';
}

/** Carries the change out. `by` is who asked first, also where a second agreed. */
export function change(moment: Moment): readonly Act[] {
  const wanted = wantedOf(moment.world, moment.frame);
  const by = wanted.first ?? moment.person;
  if (wanted.act === 'add') return invite(moment, newPerson(moment, wanted));
  const { act, person, heir } = wanted;
  if (!person) return [];
  const put = (next: Person): Act => ({ do: 'people', change: { kind: 'put-person', person: next } });
  const stand = (
    how: { now: 'away'; why: AwayWhy } | { now: 'back'; why: RosterAct } | { now: 'relieved'; why: RosterAct },
    lookBack: boolean,
  ): Act => {
    const since = lookBack ? moment.now - durationOf(moment.world.programme, 'lost-look-back') : null;
    const what = { kind: 'standing', ...how, by: by.name, heir: heir?.id ?? null, since } as const;
    return { do: 'post', personId: person.id, what, caseId: null };
  };
  const echo = (text: TextKey): readonly Act[] =>
    person.id === moment.person.id ? [] : [{ do: 'echo', person, text, vars: { by: by.name } }];
  switch (act) {
    case 'change':
      return [
        ...echo('staff.number-changed'),
        ...invite(moment, withNumber(moment, person, wanted.address)),
        stand({ now: 'away', why: act }, false),
      ];
    case 'suspend':
    case 'lost':
      return [
        ...echo('staff.taken-off'),
        put({ ...person, state: 'suspended' }),
        stand({ now: 'away', why: act }, true),
      ];
    case 'restore':
      return [put({ ...person, state: 'joined' }), stand({ now: 'back', why: act }, false)];
    case 'hand-over':
      return [stand({ now: 'relieved', why: act }, false)];
    case 'fresh': {
      const what = { kind: 'mend', caseId: null, freshBy: by.name } as const;
      return [{ do: 'post', personId: person.id, what, caseId: null }];
    }
  }
}

function channelOf(moment: Moment, person: Person | null): string {
  const dialled = (of: Person | null): string | undefined =>
    of?.addresses.find((at) => canBeDialled(at.channel))?.channel;
  return dialled(person) ?? dialled(moment.person) ?? ('sms' satisfies ChannelName);
}

function newPerson(moment: Moment, wanted: Wanted): Person {
  const { world, draw } = moment;
  const ranks = world.roster.map((one) => one.rank);
  return {
    id: invitedBefore(world, wanted.address)?.id ?? `p-${draw.digits(12)}`,
    programmeId: world.programme.id,
    name: wanted.name,
    roles: wanted.roles,
    siteId: wanted.siteId,
    locale: moment.person.locale,
    addresses: [{ channel: channelOf(moment, null), address: wanted.address }],
    rank: wanted.roles.includes('doctor') ? Math.max(0, ...ranks) + 1 : 0,
    state: 'invited',
    practised: false,
    shared: wanted.shared,
  };
}

/** The new number takes the place of the old one; other channels are left, since a lost phone had those too. */
function withNumber(moment: Moment, person: Person, address: string): Person {
  return { ...person, addresses: [{ channel: channelOf(moment, person), address }], state: 'invited' };
}

function invite(moment: Moment, person: Person): readonly Act[] {
  const number = moment.draw.digits(6);
  const invitation = {
    id: `i-${moment.draw.digits(12)}`,
    personId: person.id,
    programmeId: person.programmeId,
    number,
    validUntil: moment.now + durationOf(moment.world.programme, 'join-number'),
    wrongTries: 0,
    used: false,
  };
  const vars = { joinNumber: number };
  return [
    { do: 'people', change: { kind: 'put-person', person } },
    { do: 'people', change: { kind: 'invite', invitation } },
    {
      do: 'post',
      personId: person.id,
      caseId: null,
      what: { kind: 'tell', key: 'join.number', caseId: null, item: null, vars, lane: 'reply' },
    },
  ];
}
