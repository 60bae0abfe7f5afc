import { describe, expect, it } from 'vitest';
import { instantOf, isZone, listZones, localTimeOf, localWords } from '../../../server/web/local-time.ts';

// Offsets and days of change from the tz database, from memory: Chicago is UTC−6, in summer UTC−5; clocks went
// forward on 2026-03-08 at 02:00 and back on 2026-11-01 at 02:00. Kolkata is UTC+5:30 all year.
describe('the clock on the wall', () => {
  it.each([
    ['America/Chicago', '2026-12-04', '23:59', '2026-12-05T05:59:00.000Z'],
    ['America/Chicago', '2026-07-04', '23:59', '2026-07-05T04:59:00.000Z'],
    ['Asia/Kolkata', '2026-07-04', '8:05', '2026-07-04T02:35:00.000Z'],
    ['UTC', '2026-07-04', '00:00', '2026-07-04T00:00:00.000Z'],
    // Leapt over: read an hour on.
    ['America/Chicago', '2026-03-08', '02:30', '2026-03-08T08:30:00.000Z'],
  ])('in %s, %s %s is %s', (zone, day, time, instant) => {
    expect(instantOf({ day, time }, zone)).toBe(instant);
  });

  it('is read back as it was written', () => {
    for (const zone of ['America/Chicago', 'Asia/Kolkata', 'Pacific/Auckland', 'UTC'])
      expect(localTimeOf(instantOf({ day: '2026-10-30', time: '17:45' }, zone) ?? '', zone)).toEqual({
        day: '2026-10-30',
        time: '17:45',
      });
  });

  it.each([
    ['2026-02-30', '12:00'],
    ['2026-13-01', '12:00'],
    ['2026-01-01', '25:00'],
    ['', '12:00'],
    ['2026-01-01', ''],
    ['04.12.2026', '12:00'],
    ['2026-01-01T00:00', '12:00'],
  ])('knows %s %s for none', (day, time) => {
    expect(instantOf({ day, time }, 'UTC')).toBeNull();
  });

  it('is said in words, UTC by its name', () => {
    expect(localWords('2026-12-05T05:59:00.000Z', 'America/Chicago')).toBe('4 Dec 2026, 23:59');
    expect(localWords('2026-12-05T05:59:00.000Z', 'UTC')).toBe('5 Dec 2026, 05:59 UTC');
    expect(() => localWords('yesterday', 'UTC')).toThrow(RangeError);
  });

  it('offers every zone that it takes', () => {
    const zones = listZones();
    expect(zones.length).toBeGreaterThan(300);
    expect(zones.filter((zone) => !isZone(zone))).toEqual([]);
    expect(isZone('Nowhere/Land')).toBe(false);
  });
});
