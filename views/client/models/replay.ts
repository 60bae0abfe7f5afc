/** One moment of an attempt as the dial showed it. */
export interface ReplayFrame {
  /** Index of the action in the log. */
  readonly at: number;
  /** Crank, counted on over whole turns, degrees. */
  readonly crankDeg: number;
  /** Pointer against the face, counted on over whole turns, in graduations; from the zero in force once there is one. */
  readonly graduations: number;
}

/** How everything but crank and pointer stood, from an action on until the next entry. */
export interface ReplayStand {
  readonly from: number;
  /** Which gauge, by its place among the dials of the data; null where none is in hand. */
  readonly dial: number | null;
  /** Pump position, where the work has any. */
  readonly position: number | null;
  readonly on: boolean;
  readonly zeroed: boolean;
  readonly clamped: boolean;
  /** Graduations the bezel has turned the face. */
  readonly faceTurn: number;
  /** Small hand less the pointer's turns; null for a dial without one. */
  readonly counterOffset: number | null;
  /** Plunger less the pointer's travel, millimetres. */
  readonly plungerOffsetMm: number;
}

/** A gauge of the replay. Drills have one each, and at some benches one is chosen. */
export interface ReplayDial {
  readonly perTurn: number;
  readonly graduation: number;
  readonly graduationMm: number;
  readonly unit: string;
  /** Which way the small hand goes as the plunger goes in. */
  readonly counterWay: 1 | -1;
}

/** Where no gauge is used there is nothing to be read. */
const NO_DIAL: ReplayDial = { perTurn: 1, graduation: 1, graduationMm: 0, unit: '', counterWay: 1 };

/** An attempt for the replay, packed: differences in tenths, so that half an hour at the bench is a few kilobytes. */
export interface ReplayData {
  readonly dials: readonly ReplayDial[];
  readonly stands: readonly ReplayStand[];
  readonly at: readonly number[];
  readonly crankTenths: readonly number[];
  readonly graduationTenths: readonly number[];
  /** The plot each frame is on, −1 for none, and its point there; differences, as the rest. Empty without plots. */
  readonly plot: readonly number[];
  readonly point: readonly number[];
}

/** What the dial shows at a moment. */
export interface ReplayShown {
  readonly at: number;
  /** The gauge in hand, and its place among the dials. */
  readonly dial: ReplayDial;
  readonly dialIndex: number;
  readonly position: number | null;
  readonly on: boolean;
  readonly zeroed: boolean;
  readonly clamped: boolean;
  readonly crankDeg: number;
  readonly pointer: number;
  readonly turns: number;
  /** In the dial's unit, from the last zero; null before there is one. */
  readonly travel: number | null;
  readonly counter: number | null;
  readonly plungerMm: number;
  readonly faceTurn: number;
}

type Columns = Pick<ReplayData, 'at' | 'crankTenths' | 'graduationTenths'>;

/** Frames as columns of differences. */
export function packFrames(frames: readonly ReplayFrame[]): Columns {
  return {
    at: differences(frames.map(({ at }) => at)),
    crankTenths: differences(frames.map(({ crankDeg }) => Math.round(crankDeg * 10))),
    graduationTenths: differences(frames.map(({ graduations }) => Math.round(graduations * 10))),
  };
}

/** The frames again, to a tenth. */
export function unpackFrames(columns: Columns): ReplayFrame[] {
  const at = sums(columns.at);
  const crank = sums(columns.crankTenths);
  const graduations = sums(columns.graduationTenths);
  return at.map((action, index) => ({
    at: action,
    crankDeg: (crank[index] ?? 0) / 10,
    graduations: (graduations[index] ?? 0) / 10,
  }));
}

/** Where a frame is on the plots: which of them, and which of its points; null for a frame that is on none. */
export interface PlotPlace {
  readonly plot: number;
  readonly point: number;
}

/** Places on the plots as columns of differences. */
export function packPlaces(places: readonly (PlotPlace | null)[]): Pick<ReplayData, 'plot' | 'point'> {
  return {
    plot: differences(places.map((place) => place?.plot ?? -1)),
    point: differences(places.map((place) => place?.point ?? 0)),
  };
}

/** The places again. */
export function unpackPlaces({ plot, point }: Pick<ReplayData, 'plot' | 'point'>): (PlotPlace | null)[] {
  const points = sums(point);
  return sums(plot).map((one, index) => (one < 0 ? null : { plot: one, point: points[index] ?? 0 }));
}

/** Milliseconds: what happens with the crank standing still takes a moment too, or nobody would see it. */
const STILL_MS = 500;
const SLIDE_MS = 60;

/** A line of the log as it is told while the dial moves. */
export interface ToldLine {
  /** Its first action. */
  readonly from: number;
  readonly words: string;
  /** What was heard, felt or seen of it; may be empty. */
  readonly heard: string;
}

/** Milliseconds for words to be read: a moment to find them, and so much a letter. */
const FIND_MS = 500;
const LETTER_MS = 45;

function readingMs(words: string): number {
  return words === '' ? 0 : FIND_MS + words.length * LETTER_MS;
}

/** The line an action belongs to, by its place among them; −1 before the first. */
export function lineOf(lines: readonly ToldLine[], at: number): number {
  return lines.findLastIndex(({ from }) => from <= at);
}

/**
 * How long each frame is held still, in milliseconds: the first of a line while its words are read, the last of it while what was heard is
 * read.
 */
export function holdTimes(frames: readonly ReplayFrame[], lines: readonly ToldLine[]): number[] {
  const own = frames.map(({ at }) => lineOf(lines, at));
  return own.map((line, index) => {
    const words = own[index - 1] === line ? '' : (lines[line]?.words ?? '');
    const heard = own[index + 1] === line ? '' : (lines[line]?.heard ?? '');
    return readingMs(words) + readingMs(heard);
  });
}

/** When each frame is due, in milliseconds from the first, with the crank turned at `degPerSecond` and each frame held as long as `holds` says. */
export function dueTimes(
  frames: readonly ReplayFrame[],
  degPerSecond: number,
  holds: readonly number[] = [],
): number[] {
  let due = 0;
  return frames.map((frame, index) => {
    const before = frames[index - 1];
    if (before === undefined) return 0;
    due += holds[index - 1] ?? 0;
    const barred = Math.abs(frame.crankDeg - before.crankDeg);
    if (barred > 0) due += (barred / degPerSecond) * 1000;
    else due += frame.at === before.at ? SLIDE_MS : STILL_MS;
    return due;
  });
}

/** The last frame due by a time; the first before all. */
export function frameDue(due: readonly number[], time: number): number {
  let low = 0;
  let high = due.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if ((due[middle] ?? 0) <= time) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The first frame of the next action, or of the one before; the ends hold. `way` is 1 or -1. */
export function nextAction(frames: readonly ReplayFrame[], index: number, way: 1 | -1): number {
  const here = frames[index]?.at ?? 0;
  if (way === 1) {
    const next = frames.findIndex(({ at }) => at > here);
    return next < 0 ? Math.max(0, frames.length - 1) : lastOf(frames, next);
  }
  const before = frames.findLastIndex(({ at }) => at < here);
  return Math.max(before, 0);
}

/** How much of its action is gone at a frame: by the crank where it turned, else by the frames of the action. 0 to 1. */
export function shareOfAction(frames: readonly ReplayFrame[], index: number, share = 0): number {
  const here = frames[index];
  if (here === undefined) return 1;
  const first = frames.findIndex(({ at }) => at === here.at);
  const last = lastOf(frames, index);
  const [from, to] = [frames[Math.max(first - 1, 0)]?.crankDeg ?? 0, frames[last]?.crankDeg ?? 0];
  const next = frames[Math.min(index + 1, last)]?.crankDeg ?? here.crankDeg;
  const crankDeg = here.crankDeg + (next - here.crankDeg) * share;
  if (from !== to) return Math.min(Math.max((crankDeg - from) / (to - from), 0), 1);
  return last === first ? 1 : Math.min((index - first + share) / (last - first), 1);
}

function lastOf(frames: readonly ReplayFrame[], index: number): number {
  const { at } = frames[index] ?? { at: -1 };
  return frames.findLastIndex((frame) => frame.at === at);
}

/**
 * What the dial shows at a frame, or between it and the next when `share` (0 to 1) of the way is gone: only within one action, since
 * between two the face may have been turned.
 */
export function shownAt(
  data: ReplayData,
  frames: readonly ReplayFrame[],
  index: number,
  share = 0,
): ReplayShown | null {
  const frame = frames[index];
  if (frame === undefined) return null;
  const next = frames[index + 1];
  const part = next !== undefined && next.at === frame.at ? share : 0;
  const between = (a: number, b: number) => a + (b - a) * part;
  const graduations = between(frame.graduations, next?.graduations ?? frame.graduations);
  const stand = data.stands.findLast(({ from }) => from <= frame.at);
  const dialIndex = stand?.dial ?? 0;
  const dial = data.dials[dialIndex] ?? NO_DIAL;
  const turns = Math.floor(graduations / dial.perTurn + 1e-9);
  return {
    at: frame.at,
    dial,
    dialIndex,
    position: stand?.position ?? null,
    on: stand?.on ?? false,
    zeroed: stand?.zeroed ?? false,
    clamped: stand?.clamped ?? false,
    crankDeg: between(frame.crankDeg, next?.crankDeg ?? frame.crankDeg),
    turns,
    pointer: graduations - turns * dial.perTurn,
    travel: stand?.zeroed ? graduations * dial.graduation : null,
    counter:
      stand?.counterOffset == null
        ? null
        : stand.counterOffset + (dial.counterWay * graduations) / dial.perTurn,
    plungerMm: Math.max(0, (stand?.plungerOffsetMm ?? 0) + graduations * dial.graduationMm),
    faceTurn: stand?.faceTurn ?? 0,
  };
}

function differences(values: readonly number[]): number[] {
  return values.map((value, index) => value - (index === 0 ? 0 : (values[index - 1] ?? 0)));
}

function sums(steps: readonly number[]): number[] {
  let sum = 0;
  return steps.map((step) => {
    sum += step;
    return sum;
  });
}
