import { camProfile, type LiftPoint, liftAt } from './cam-profile.ts';
import { type DrawingNames, drawing, escapeText, num, polyline, radial } from './svg.ts';

/** A lobe, its tappet and its rod at one moment. */
export interface Cutaway {
  /** Closed lift curve of the roller follower: [degrees of cam, lift in mm], rising degrees, 0 to 360. */
  readonly liftCurve: readonly LiftPoint[];
  readonly camDeg: number;
  /** Height of the tappet above base circle; more than the lift when it hangs. */
  readonly tappetMm: number;
  readonly baseRadiusMm?: number;
  readonly rollerRadiusMm?: number;
  /** False leaves the figures out: whoever practises reads them off the gauge. */
  readonly figures?: false;
}

const BASE_MM = 20;
const ROLLER_MM = 9;

const WIDTH = 320;
const HEIGHT = 470;
const CAM_Y = 352;
const PER_MM = 3.4;
const BORE = 42;
const WALL = { left: 36, right: 284, top: 128, bottom: 236 } as const;

/**
 * Section through cam, roller tappet, rod and the indicator's tip, in the drawing convention of the trade: cut metal carries section lines
 * at 45°, each part its own way, and centre lines are chain-dashed. Pins, rollers and rods aren't cut. True to the lift curve; for lessons and
 * graded work alone, since it shows what a student can't see.
 */
export function cutawaySvg(shown: Cutaway, names: DrawingNames): string {
  const base = shown.baseRadiusMm ?? BASE_MM;
  const roller = shown.rollerRadiusMm ?? ROLLER_MM;
  const id = escapeText(names.id);
  const centre = WIDTH / 2;
  const at = cutawayTransforms(shown);
  // Every second degree: finer than the drawing can show.
  const profile = polyline(
    camProfile(shown.liftCurve, base, roller)
      .filter((_, deg) => deg % 2 === 0)
      .map(([x, y]) => [x * PER_MM, y * PER_MM] as const),
  );
  const camLift = liftAt(shown.liftCurve, shown.camDeg);
  const body =
    sectionLines(`${id}-block`, 45) +
    sectionLines(`${id}-tappet`, -45) +
    // The cam turns under its section lines, which stay at 45° on the paper.
    sectionLines(`${id}-cam`, 45 - shown.camDeg) +
    block(`${id}-block`) +
    `<g transform="translate(${centre} ${CAM_Y})"><g data-part="cam" transform="${at.cam}">` +
    `<path class="part-cut" fill="url(#${id}-cam)" d="${profile}Z"/></g>` +
    `<path class="centre-line" d="M-${num(base * PER_MM + 34)} 0H${num(base * PER_MM + 34)}"/></g>` +
    `<g data-part="tappet" transform="${at.tappet}">${tappet(`${id}-tappet`, roller * PER_MM)}</g>` +
    `<path class="centre-line" d="M${centre} 6V${HEIGHT - 30}"/>` +
    (shown.figures === false ? partNames() : words(shown.camDeg, camLift));
  const description =
    names.description ??
    (shown.figures === false
      ? 'The cam turns under the roller of the tappet; the rod carries the movement up to the indicator.'
      : `Cam at ${Math.round(shown.camDeg)}°, lift of the cam ${camLift.toFixed(2)} mm, tappet ${shown.tappetMm.toFixed(2)} mm up.`);
  return drawing({ ...names, description }, { width: WIDTH, height: HEIGHT }, 'cutaway-drawing', body);
}

/** Where cam and tappet stand: the `transform` of each `data-part`. */
export function cutawayTransforms({
  camDeg,
  tappetMm,
  baseRadiusMm = BASE_MM,
  rollerRadiusMm = ROLLER_MM,
}: Pick<Cutaway, 'camDeg' | 'tappetMm' | 'baseRadiusMm' | 'rollerRadiusMm'>): Record<
  'cam' | 'tappet',
  string
> {
  const rollerY = CAM_Y - (baseRadiusMm + rollerRadiusMm + tappetMm) * PER_MM;
  return { cam: `rotate(${num(camDeg)})`, tappet: `translate(${WIDTH / 2} ${num(rollerY)})` };
}

/** A pattern of section lines, 7 units apart. */
function sectionLines(id: string, deg: number): string {
  return (
    `<defs><pattern id="${id}" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(${deg})">` +
    '<rect class="part-ground" width="7" height="7"/><path class="section-lines" d="M0 0V7"/></pattern></defs>'
  );
}

/** The engine block either side of the bore, broken off at its outer edges. */
function block(pattern: string): string {
  const { left, right, top, bottom } = WALL;
  const middle = WIDTH / 2;
  const sides = [
    `M${middle - BORE} ${top}H${left}Q${left - 9} ${top + 36} ${left} ${(top + bottom) / 2}T${left} ${bottom}H${middle - BORE}Z`,
    `M${middle + BORE} ${top}H${right}Q${right + 9} ${top + 36} ${right} ${(top + bottom) / 2}T${right} ${bottom}H${middle + BORE}Z`,
  ];
  return sides.map((d) => `<path class="part-cut" fill="url(#${pattern})" d="${d}"/>`).join('');
}

/** Tappet, roller and pin, rod and the indicator's tip, about the roller's centre. */
function tappet(pattern: string, roller: number): string {
  const half = BORE - 3;
  const head = -roller - 62;
  const cup = 15;
  const shell =
    `M-${half} ${num(roller * 0.35)}V${num(head)}H-${cup}V${num(head + 34)}Q0 ${num(head + 44)} ${cup} ${num(head + 34)}V${num(head)}H${half}V${num(roller * 0.35)}` +
    `H${num(roller + 3)}V${num(-roller - 4)}H-${num(roller + 3)}V${num(roller * 0.35)}Z`;
  const rodFoot = head + 38;
  const rodTop = head - 96;
  return (
    `<path class="part-cut" fill="url(#${pattern})" d="${shell}"/>` +
    `<circle class="part" r="${num(roller)}"/><circle class="part" r="${num(roller * 0.36)}"/><path class="centre-line" d="M-${num(roller + 8)} 0H${num(roller + 8)}"/>` +
    `<path class="part" d="M-8 ${num(rodTop)}H8V${num(rodFoot - 6)}Q0 ${num(rodFoot + 6)} -8 ${num(rodFoot - 6)}Z"/>` +
    `<circle class="part" cy="${num(rodTop - 6)}" r="6"/><path class="part" d="M-6 ${num(rodTop - 9)}L-9 ${num(rodTop - 22)}H9L6 ${num(rodTop - 9)}Z"/>` +
    `<path class="part" d="M-8 ${num(rodTop - 22)}V-${HEIGHT}H8V${num(rodTop - 22)}Z"/>`
  );
}

function partNames(): string {
  const label = (x: number, y: number, text: string, toX: number, toY: number) =>
    `<text class="cutaway-word" x="${x}" y="${y}">${text}</text><path class="line" d="M${x - 4} ${y - 4}L${toX} ${toY}"/>`;
  return (
    label(240, 30, 'indicator', 171, 34) +
    label(240, 84, 'rod', 171, 88) +
    label(256, 262, 'tappet', 188, 196)
  );
}

function words(camDeg: number, camLift: number): string {
  const cam = Math.round(((camDeg % 360) + 360) % 360);
  return (
    partNames() +
    crankRing(cam * 2) +
    `<text class="cutaway-figure" x="8" y="${HEIGHT - 8}">cam ${cam}°</text>` +
    `<text class="cutaway-figure" x="${WIDTH / 2}" y="${HEIGHT - 8}" text-anchor="middle">lift ${camLift.toFixed(2)} mm</text>` +
    `<text class="cutaway-figure" x="${WIDTH - 8}" y="${HEIGHT - 8}" text-anchor="end">crank ${(cam * 2) % 720}°</text>`
  );
}

/** The crank, which turns twice for the cam's once: a ring of degrees and a pointer. */
function crankRing(crankDeg: number): string {
  let ticks = '';
  for (let deg = 0; deg < 360; deg += 30) ticks += radial(deg, deg % 90 === 0 ? 17 : 20, 24);
  return `<g transform="translate(286 414)"><circle class="part" r="24"/><path class="line" d="${ticks}"/><path class="line-heavy" d="${radial(crankDeg, 0, 17)}"/><circle class="part-ink" r="3"/></g>`;
}
