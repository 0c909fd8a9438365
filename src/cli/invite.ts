/** `neckline invite`: a link by which one person joins on Telegram. The command line stands for the second person. */

import { randomBytes } from 'node:crypto';
import { isRole, roles } from '../case/roles.ts';
import { botName } from '../channels/telegram/bot-name.ts';
import type { Settings } from '../config.ts';
import type { Content } from '../content/load.ts';
import { linkInvitation, linkPayload } from '../conversation/join-link.ts';
import type { Invitation, Person } from '../conversation/world.ts';
import { nothingChanged } from '../line/change.ts';
import type { ChangeSet } from '../line/ports.ts';
import { Refused } from './open-line.ts';
import { type Io, operate, withStore } from './operate.ts';
import { personMeant } from './person-meant.ts';
import { nameFault } from './roster-file.ts';
import { inventedProgramme, isInvented } from './said-place.ts';

const usage = `neckline invite PERSON
neckline invite --add ROLES SITE NAME

Prints a link by which one person joins on Telegram, once. PERSON is somebody of the roster: id, whole name or address.
With --add somebody new, who has no address yet; roles joined by +. A new link voids the former one of the same person.
Hand it over in person: whoever opens it first is taken for them.
`;

/** Runs the command. 1 when nobody, or more than one, is meant; 2 for bad usage or a database that cannot be opened. */
export async function runInvite(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return 0;
  }
  const adding = args[0] === '--add';
  if (adding ? args.length < 4 : args.length === 0 || args[0]!.startsWith('--')) {
    io.stderr.write(usage);
    return 2;
  }
  return operate(io, () =>
    withStore(io, async (store, content, settings) => {
      const { programme } = content;
      if (isInvented(settings)) throw new Refused(inventedProgramme('Telegram reaches real people'));
      const known = await store.roster(programme.id);
      const found = adding ? somebodyNew(args.slice(1), content, known) : somebodyKnown(args.join(' '), known);
      if (typeof found === 'string') {
        io.stderr.write(`invite: ${found}\n`);
        return 1;
      }
      const drawn = { id: randomBytes(6).toString('hex'), secret: randomBytes(24).toString('base64url') };
      const now = Date.now();
      const invitation = linkInvitation({ person: found, ...drawn, now }, programme);
      const [ended] = await store.commit([changeOf(found, invitation, adding, now)]);
      if (ended !== 'committed') throw new Error('not stored');
      io.stdout.write(await words(settings, found, invitation, now));
      return 0;
    }),
  );
}

/** The person meant, or what was wrong. */
function somebodyKnown(wanted: string, known: readonly Person[]): Person | string {
  const person = personMeant(wanted, known);
  if (typeof person === 'string') return person;
  return person.state === 'suspended' ? 'that person is off the line; RESTORE comes first' : person;
}

function somebodyNew(
  args: readonly string[],
  { programme, texts }: Content,
  known: readonly Person[],
): Person | string {
  const [roleWords = '', siteId = '', ...name] = args;
  const wanted = roleWords.split('+');
  if (!wanted.every(isRole)) return `expected roles of ${roles.join(', ')}, joined by +`;
  const places = wanted.includes('lab') ? programme.laboratories : programme.sites;
  if (!places.some((one) => one.id === siteId)) return `expected a place: ${places.map((one) => one.id).join(', ')}`;
  const fault = nameFault(texts, name.join(' ').trim(), false);
  if (fault !== null) return `expected ${fault}`;
  const doctor = wanted.includes('doctor');
  return {
    id: `p-${randomBytes(6).toString('hex')}`,
    programmeId: programme.id,
    name: name.join(' ').trim(),
    roles: wanted,
    siteId,
    locale: 'en',
    addresses: [],
    rank: doctor ? Math.max(0, ...known.map((one) => one.rank)) + 1 : 0,
    state: 'invited',
    practised: false,
    shared: false,
  };
}

function changeOf(person: Person, invitation: Invitation, isNew: boolean, at: number): ChangeSet {
  return {
    ...nothingChanged(`invite:${invitation.id}`, person.programmeId, at),
    people: [...(isNew ? [{ kind: 'put-person', person } as const] : []), { kind: 'invite', invitation }],
  };
}

async function words(settings: Settings, person: Person, invitation: Invitation, now: number): Promise<string> {
  const payload = linkPayload(invitation);
  const token = settings.NECKLINE_TELEGRAM_TOKEN;
  const bot = token ? await botName(token, settings.NECKLINE_TELEGRAM_API_ROOT) : null;
  const hours = Math.round((invitation.validUntil - now) / 3_600_000);
  const how = bot ? `https://t.me/${bot}?start=${payload}` : `Open the bot on Telegram and send: /start ${payload}`;
  return `${person.name} (${person.id}) may join on Telegram within ${hours} h, once:\n${how}\n`;
}
