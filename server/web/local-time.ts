import { DateTime, IANAZone } from 'luxon';

/** A day and a time of day as they are typed and shown: `2026-12-04` and `23:59`. */
export interface LocalTime {
  readonly day: string;
  readonly time: string;
}

/** The zone of the clock this server stands by; UTC where the system names none. */
export const SERVER_ZONE = Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC';

/** Every zone that can be chosen, by its name in the tz database. */
export function listZones(): readonly string[] {
  return [...new Set(['UTC', SERVER_ZONE, ...Intl.supportedValuesOf('timeZone')])];
}

export function isZone(zone: string): boolean {
  return IANAZone.isValidZone(zone);
}

/** The instant, ISO 8601 in UTC, of a time on a wall clock; null for what is no day or no time. A time the clock leaps over is read an hour on. */
export function instantOf({ day, time }: LocalTime, zone: string): string | null {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(day) || !/^\d{1,2}:\d{2}$/.test(time)) return null;
  const at = DateTime.fromISO(`${day}T${time.padStart(5, '0')}`, { zone });
  return at.isValid ? at.toUTC().toISO() : null;
}

/** An instant as the wall clock there shows it. @throws RangeError for what is no instant. */
export function localTimeOf(instant: string, zone: string): LocalTime {
  const at = placed(instant, zone);
  return { day: at.toFormat('yyyy-MM-dd'), time: at.toFormat('HH:mm') };
}

/** An instant for a person there: `4 Dec 2026, 23:59`, with the zone's name where it is not that of the section. */
export function localWords(instant: string, zone: string): string {
  const at = placed(instant, zone);
  return `${at.setLocale('en-GB').toFormat('d LLL yyyy, HH:mm')}${zone === 'UTC' ? ' UTC' : ''}`;
}

function placed(instant: string, zone: string): DateTime {
  const at = DateTime.fromISO(instant, { zone });
  if (!at.isValid) throw new RangeError(`"${instant}" is no instant`);
  return at;
}

const DAYS = new Map<string, Intl.DateTimeFormat>();

/** The day of an instant by the clock there, `2026-12-04`; for many of them. @throws RangeError for what is no instant, or no zone. */
export function localDay(instant: string, zone: string): string {
  const format =
    DAYS.get(zone) ??
    // Canada writes its days as ISO 8601 does.
    new Intl.DateTimeFormat('en-CA', { timeZone: zone, year: 'numeric', month: '2-digit', day: '2-digit' });
  DAYS.set(zone, format);
  return format.format(new Date(instant));
}
