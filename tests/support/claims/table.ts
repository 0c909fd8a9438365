/** What the line's texts claim, held against the record: the table of plays, walker and month. */
import { alarmClaims } from './alarm-claims.ts';
import type { Claim } from './claim.ts';
import { laboratoryClaims } from './laboratory-claims.ts';
import { patientClaims } from './patient-claims.ts';
import { peopleClaims } from './people-claims.ts';

export const claims: readonly Claim[] = [...patientClaims, ...laboratoryClaims, ...alarmClaims, ...peopleClaims];
