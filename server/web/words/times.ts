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

/** A length of time for a person, to two units: `40 s`, `1 min 10 s`, `9 min`, `2 h 5 min`, `3 days 4 h`. `seconds` is not negative. */
export function lengthOfTime(seconds: number): string {
  const whole = Math.round(seconds);
  const [days, hours, minutes, left] = [
    Math.floor(whole / 86_400),
    Math.floor(whole / 3600) % 24,
    Math.floor(whole / 60) % 60,
    whole % 60,
  ];
  const parts: readonly (readonly [number, string])[] = [
    [days, days === 1 ? 'day' : 'days'],
    [hours, 'h'],
    [minutes, 'min'],
    [left, 's'],
  ];
  const first = parts.findIndex(([count]) => count > 0);
  if (first < 0) return '0 s';
  return parts
    .slice(first, first + 2)
    .filter(([count]) => count > 0)
    .map(([count, unit]) => `${count} ${unit}`)
    .join(' ');
}
