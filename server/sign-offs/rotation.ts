export interface Place {
  readonly number: string;
  readonly name: string;
}

/** One turn at one engine: who reads, and who bars. */
export interface Turn {
  readonly from: string;
  readonly to: string;
  readonly places: readonly { readonly place: Place; readonly reads: string; readonly bars: string | null }[];
}

/**
 * Who stands at which engine when. Everybody reads once; the next on the list bars for them, and reads when the turn after comes. Turns follow
 * each other without a pause; past midnight the clock begins again. With one student alone nobody bars: the assessor stands by.
 */
export function rotationOf(
  students: readonly string[],
  places: readonly Place[],
  { minutes, begin }: { readonly minutes: number; readonly begin: string },
): readonly Turn[] {
  if (places.length === 0) return [];
  const [, hours = '8', rest = '00'] = /^(\d{1,2}):(\d{2})$/.exec(begin) ?? [];
  const start = Number(hours) * 60 + Number(rest);
  const clock = (minute: number) => {
    const of = minute % (24 * 60);
    return `${String(Math.floor(of / 60)).padStart(2, '0')}:${String(of % 60).padStart(2, '0')}`;
  };
  const turns = Math.ceil(students.length / places.length);
  return Array.from({ length: turns }, (_, turn): Turn => {
    const reading = students.slice(turn * places.length, (turn + 1) * places.length);
    // Whoever reads stands at an engine already: the ones who read next bar, each at one engine.
    const free = students.filter((student) => !reading.includes(student));
    const next = free.length === 0 ? [] : rotated(free, (turn + 1) * places.length - reading.length);
    return {
      from: clock(start + turn * minutes),
      to: clock(start + (turn + 1) * minutes),
      places: reading.map((reads, index) => ({
        place: places[index] as Place,
        reads,
        bars: next[index] ?? null,
      })),
    };
  });
}

function rotated<T>(list: readonly T[], by: number): readonly T[] {
  const at = by % list.length;
  return [...list.slice(at), ...list.slice(0, at)];
}
