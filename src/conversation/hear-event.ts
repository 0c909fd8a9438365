/** What came from a phone, to the one who hears it: a tap, a text, or something that is no whole text. */
import { assertNever } from '../clinical/assert-never.ts';
import { letEndedGo } from './ended-by-hand.ts';
import type { LineEvent } from './event.ts';
import { hearUnreadable } from './hear.ts';
import { hearSaid } from './hear-quote.ts';
import { hearTap } from './hear-tap.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

export function hearEvent(turn: Turn, person: Person, event: Exclude<LineEvent, { readonly kind: 'due' }>): void {
  letEndedGo(turn);
  switch (event.kind) {
    case 'tap':
      hearTap(turn, person, event.token, event.reply);
      return;
    case 'text':
      hearSaid(turn, person, event);
      return;
    case 'unreadable':
      hearUnreadable(turn, person, event);
      return;
    default:
      assertNever(event);
  }
}
