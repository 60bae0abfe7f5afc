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
