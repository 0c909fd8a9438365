/** People without whom a patient's question reaches nobody. */
import { channelFacts } from '../../conversation/channel-facts.ts';
import { emptyRoles } from '../../conversation/last-one.ts';
import { reachable, withRole } from '../../conversation/people.ts';
import type { Facts, Missing } from './missing.ts';
import { isOfNoCountry } from './missing-names.ts';

/** One who is asleep or away must not be the only one. */
const leastDoctors = 2;
const byRoster = 'in the roster file, then neckline roster import';

/** What of the people is missing. */
export function missingPeople(facts: Facts): readonly Missing[] {
  return [...roles(facts), ...clinics(facts), ...numbers(facts), ...practice(facts)];
}

function roles({ roster, programme }: Facts): readonly Missing[] {
  const doctors = withRole({ roster }, 'doctor').length;
  const found: Missing[] = [];
  if (doctors < leastDoctors) {
    const said = doctors === 0 ? 'No doctor is on the line' : 'Only one doctor is on the line';
    found.push({
      id: 'doctors',
      what: `${said}: two are needed, so that a question has somebody when one does not answer.`,
      mend: `Add doctors ${byRoster}.`,
      holdsUp: 'start',
    });
  }
  for (const { role, siteId } of emptyRoles({ roster, programme })) {
    if (role === 'coordinator') {
      found.push({
        id: 'coordinator',
        what: 'No coordinator is on the line: nobody hears what is late or goes wrong.',
        mend: `Add one ${byRoster}.`,
        holdsUp: 'start',
      });
    }
    if (role === 'lab') {
      const labId = programme.sites.find(({ id }) => id === siteId)?.labId;
      found.push({
        id: `laboratory.${siteId}`,
        what: `The clinic ${siteId} posts to the laboratory ${labId}, of which nobody is on the line.`,
        mend: `Add a technician with ${labId} as the site ${byRoster}.`,
        holdsUp: 'start',
      });
    }
  }
  return found;
}

function clinics({ roster, programme }: Facts): readonly Missing[] {
  const workers = withRole({ roster }, 'worker');
  return programme.sites
    .filter(({ id }) => !workers.some((one) => one.siteId === id))
    .map(({ id }) => ({
      id: `worker.${id}`,
      what: `The clinic ${id} has no worker on the line: it can send no patient.`,
      mend: `Add one ${byRoster}, or take the clinic out of the programme.`,
      holdsUp: 'patients',
    }));
}

/** Nobody is named here: the list may be read over a shoulder or sent on. */
function numbers({ roster }: Facts): readonly Missing[] {
  const here = roster.filter(reachable);
  const unreal = here.filter((one) =>
    one.addresses.some(
      ({ channel, address }) => channelFacts(channel).address === 'phone-number' && isOfNoCountry(address),
    ),
  );
  const benches = here.filter((one) => one.addresses.every(({ channel }) => channelFacts(channel).address === 'name'));
  const found: Missing[] = [];
  if (unreal.length > 0) {
    found.push({
      id: 'numbers',
      what: `${counted(unreal.length)} the number of an example, which no phone has (it begins with +0 or +999).`,
      mend: `Put the real numbers ${byRoster}.`,
      holdsUp: 'patients',
    });
  }
  if (benches.length > 0) {
    found.push({
      id: 'bench',
      what: `${counted(benches.length)} an address of the phone bench only, where nobody can be texted.`,
      mend: `Give them a phone ${byRoster}, or take them off with SUSPEND.`,
      holdsUp: 'patients',
    });
  }
  return found;
}

function counted(people: number): string {
  return people === 1 ? 'One person of the roster has' : `${people} people of the roster have`;
}

function practice({ roster }: Facts): readonly Missing[] {
  const here = roster.filter(reachable);
  if (here.length === 0 || here.some((one) => one.practised)) return [];
  return [
    {
      id: 'practised',
      what: 'Nobody has done the practice question yet.',
      mend: 'Start the line, and let everybody send JOIN: the welcome text says so.',
      holdsUp: 'nothing',
    },
  ];
}
