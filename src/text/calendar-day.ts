/** A day of the Gregorian calendar, month 1 to 12. No zone and no time: the caller knows whose day it is. */
export interface CalendarDay {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}

const monthLengths = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

function isLeapYear(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

/** Days of a month, 28 to 31; 0 for a month that does not exist. */
function daysInMonth(year: number, month: number): number {
  return month === 2 && isLeapYear(year) ? 29 : (monthLengths[month - 1] ?? 0);
}

/** Whether the calendar has this day (years 1 to 9999). */
export function isCalendarDay({ year, month, day }: CalendarDay): boolean {
  return year >= 1 && year <= 9999 && day >= 1 && day <= daysInMonth(year, month);
}

/** Days since 1 January of year 1, so that differences count days. The day must exist. */
export function dayNumber({ year, month, day }: CalendarDay): number {
  const past = year - 1;
  let days = past * 365 + Math.floor(past / 4) - Math.floor(past / 100) + Math.floor(past / 400);
  for (let one = 1; one < month; one += 1) days += daysInMonth(year, one);
  return days + day - 1;
}

/** The day that many days later; negative = earlier. */
export function addDays(from: CalendarDay, days: number): CalendarDay {
  let { year, month } = from;
  let day = from.day + days;
  while (day < 1) {
    month -= 1;
    if (month < 1) {
      month = 12;
      year -= 1;
    }
    day += daysInMonth(year, month);
  }
  while (day > daysInMonth(year, month)) {
    day -= daysInMonth(year, month);
    month += 1;
    if (month > 12) {
      month = 1;
      year += 1;
    }
  }
  return { year, month, day };
}
