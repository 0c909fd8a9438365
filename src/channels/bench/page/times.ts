/** Instants in the zone of the texts, days in the language of the page, figures of every language the same. */
let zone = 'UTC';

let spoken = 'en-GB';

/** Sets the language of all days of the page. */
export function useLanguage(tag: string): void {
  spoken = tag === 'en' ? 'en-GB' : `${tag}-u-ca-gregory-nu-latn`;
}

/** Sets the IANA zone of all times of the page. */
export function useZone(name: string): void {
  zone = name;
}

/** `Mon 4 Mar 2030`. */
export function dayText(at: number): string {
  return new Date(at).toLocaleDateString(spoken, {
    timeZone: zone,
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    year: 'numeric',
  });
}

/** `09:05`. */
export function hourText(at: number): string {
  return new Date(at).toLocaleTimeString('en-GB', { timeZone: zone, hour: '2-digit', minute: '2-digit' });
}

/** `09:05`, or with the day before it where that is another one than `now`'s. */
export function whenText(at: number, now: number): string {
  const isToday = dayText(at) === dayText(now);
  if (isToday) return hourText(at);
  const day = new Date(at).toLocaleDateString(spoken, {
    timeZone: zone,
    weekday: 'short',
    day: 'numeric',
    month: 'short',
  });
  return `${day} ${hourText(at)}`;
}

/** Hours and minutes of the day, for the hands of a clock. */
export function handsOf(at: number): { readonly hours: number; readonly minutes: number } {
  const [hours = 0, minutes = 0] = hourText(at).split(':').map(Number);
  return { hours, minutes };
}
