/** What a phone has cost: messages both ways, and money where the programme says a price. */
import type { PhoneCost, Price } from './contract.ts';
import type { Say } from './words.ts';

/** `12 sent (14 SMS), 30 got (44 SMS), 1.32 EUR`. Money: what the network takes for both ways together. */
export function meterText(cost: PhoneCost, price: Price | null, say: Say): string {
  const counted = say('page-meter', {
    sent: cost.sentTexts,
    sentSegments: cost.sentSegments,
    got: cost.gotTexts,
    gotSegments: cost.gotSegments,
  });
  if (!price) return counted;
  const money = cost.sentSegments * price.perSegmentIn + cost.gotSegments * price.perSegmentOut;
  return `${counted} ${say('page-meter-money', { money: money.toFixed(2), currency: price.currency })}`;
}
