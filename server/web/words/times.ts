/** The server keeps UTC and says so: a shop's sections may not all stand in one time zone. */
const WRITTEN = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  hour: '2-digit',
  minute: '2-digit',
  hourCycle: 'h23',
  timeZone: 'UTC',
});

/** An ISO instant for a person: `14 Sept 2026, 08:05 UTC`. Throws RangeError for what is no instant. */
export function timeWords(iso: string): string {
  return `${WRITTEN.format(new Date(iso))} UTC`;
}

const DAY = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  timeZone: 'UTC',
});

/** A day written `YYYY-MM-DD`, for a person: `14 Sept 2026`. Throws RangeError for what is no day. */
export function dayWords(day: string): string {
  return DAY.format(new Date(`${day}T00:00:00Z`));
}
