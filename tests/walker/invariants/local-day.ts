const hourMs = 3_600_000;

/** The day at the clinics, three hours ahead of UTC, as `2030-03-06`. */
export const localDay = (at: number): string => new Date(at + 3 * hourMs).toISOString().slice(0, 10);
