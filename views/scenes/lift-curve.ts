import type { BriefOf, ViewOf } from '../../server/engine/index.ts';
import { drawing, escapeText, num, onCircle, radial } from '../drawing/svg.ts';
import { type HeldGauge, heldMoves, heldSvg, type Off, offRest, unitsPerMm } from './held-gauge.ts';
import { centreLine, cut, sectionLines, word } from './paper.ts';
import type { Moves, Scene, SceneMoment } from './types.ts';

type Brief = BriefOf<'lift-curve'>;
type View = ViewOf<'lift-curve'>;

const SIZE = { width: 320, height: 300 } as const;
/** The degree wheel on the crank. */
const WHEEL = { x: 108, y: 160, radius: 100 } as const;
/** The tappet's rod: where its end is with the plunger just touching, and how far the gauge's barrel is then. */
const ROD = { x: 268, foot: 150, free: 82, length: 66 } as const;
const BLOCK = { left: 230, right: 306, top: 158, bottom: 204 } as const;
const GEAR = { x: 268, y: 246, radius: 28 } as const;

/** The degree wheel on the crank and its pointer, the mark on the cam gear, and the tip on the rod of a tappet. */
export const liftCurveScene: Scene<Brief, View> = {
  draw(brief, view, names) {
    const id = escapeText(names.id);
    const at = moved(brief, view, {
      deg: view.sample.workDeg,
      plungerMm: view.sample.plungerMm,
      effort: null,
    });
    const body =
      sectionLines(`${id}-block`, 45) +
      wheel(view, at) +
      tappet(at, `${id}-block`) +
      (view.indicator === 'on' ? heldSvg(gaugeOf(brief, view), brief.dial, view.sample.plungerMm) : '') +
      gear(view, at);
    return drawing(
      { ...names, description: names.description ?? inWords(brief, view) },
      SIZE,
      'scene-drawing',
      body,
    );
  },
  move: (brief, view, moment) => {
    const { rod, tip, gauge, ...turning } = moved(brief, view, moment);
    if (view.indicator === 'off' || rod === undefined || tip === undefined || gauge === undefined)
      return turning;
    return { ...turning, rod, tip, gauge };
  },
  describe: inWords,
};

/** Where everything that moves stands at a moment. */
function moved(brief: Brief, view: View, moment: SceneMoment): Moves {
  const { workDeg, plungerMm } = view.sample;
  const deg = moment.deg ?? workDeg ?? 0;
  const gauge = gaugeOf(brief, view);
  const perMm = unitsPerMm(ROD.free, brief.dial);
  const off: Off = offRest(perMm, { deg: workDeg, plungerMm }, moment);
  return {
    wheel: { transform: `rotate(${num(inTurn(deg))})` },
    'wheel-figure': {
      transform: `translate(${WHEEL.x + 34} 24)`,
      text: degrees(deg),
    },
    'gear-mark': { transform: `rotate(${num(crankOf(view, deg) / 2)})` },
    rod: { transform: `translate(${ROD.x} ${num(gauge.y - off.work)})` },
    ...heldMoves(gauge, brief.dial, plungerMm, off),
  };
}

/** With the tip on it the rod's end is as far up as the plunger is in; without, it is drawn where it would be at the lowest. */
function gaugeOf({ dial }: Brief, { indicator, sample }: View): HeldGauge {
  const up = indicator === 'on' ? unitsPerMm(ROD.free, dial) * sample.plungerMm : 0;
  return { x: ROD.x, y: ROD.foot - up, free: ROD.free, barrel: 56, arm: 'right' };
}

function inWords(_: Brief, { sample, turn, stops, indicator }: View): string {
  const wheelSays = `The degree wheel stands at ${degrees(sample.workDeg ?? 0)}, in turn ${turn} of the two by the mark on the cam gear.`;
  const stopped =
    stops === null
      ? ''
      : ` The piston met its stop at ${degrees(stops.forwardDeg)} coming forward and at ${degrees(stops.backDeg)} coming back; both are marked on the wheel.`;
  const tip =
    indicator === 'on'
      ? ' The indicator’s tip is on the rod of the tappet.'
      : ' The indicator has not been set down on the rod.';
  return `${wheelSays}${stopped}${tip}`;
}

function inTurn(deg: number): number {
  return ((deg % 360) + 360) % 360;
}

/** As a degree wheel is read: to a tenth, 0 to 360. */
function degrees(deg: number): string {
  return `${(Math.round(inTurn(deg) * 10) / 10) % 360}°`;
}

/** Crank over both turns. The wheel says where in a turn; of the two it is the nearer to where all stands. */
function crankOf({ turn, sample }: View, deg: number): number {
  const near = (sample.workDeg ?? 0) + 360 * (turn - 1);
  const turns = Math.round((near - deg) / 360);
  return (((deg + 360 * turns) % 720) + 720) % 720;
}

/** Graduations every five degrees, figures every thirty, rising against the clock so that they pass the pointer rising. */
function wheel({ stops }: View, at: Moves): string {
  const { x, y, radius } = WHEEL;
  let fine = '';
  let coarse = '';
  let figures = '';
  for (let deg = 0; deg < 360; deg += 5) {
    if (deg % 30 === 0) coarse += radial(-deg, radius - 16, radius);
    else fine += radial(-deg, radius - (deg % 10 === 0 ? 11 : 6), radius);
    if (deg % 30 !== 0) continue;
    const [tx, ty] = onCircle(radius - 30, -deg);
    figures += `<text class="scene-degree" transform="translate(${num(tx)} ${num(ty)}) rotate(${-deg})" y="5">${deg}</text>`;
  }
  const marked =
    stops === null
      ? ''
      : `<path class="scene-scribed" d="${radial(-stops.forwardDeg, radius - 22, radius)}${radial(-stops.backDeg, radius - 22, radius)}"/>`;
  return (
    `<g transform="translate(${x} ${y})"><g data-part="wheel" transform="${at.wheel?.transform}">` +
    `<circle class="part" r="${radius}"/><path class="line" d="${fine}"/><path class="line-heavy" d="${coarse}"/>${figures}${marked}` +
    `<circle class="part" r="24"/><path class="part" d="M-11 -6.5L0 -13L11 -6.5V6.5L0 13L-11 6.5Z"/></g>` +
    `${centreLine('M-34 0H34M0 -34V34')}</g>` +
    // A wire pointer, bent over from a bolt in the block.
    `<path class="line-heavy" d="M${x - 40} 18H${x - 8}Q${x} 18 ${x} 28V${y - radius - 8}"/><path class="part-ink" d="M${x - 4} ${y - radius - 10}H${x + 4}L${x} ${y - radius + 6}Z"/>` +
    `<circle class="part" cx="${x - 46}" cy="18" r="8"/><circle class="part-ink" cx="${x - 46}" cy="18" r="2.5"/>` +
    `<text class="scene-degree" data-part="wheel-figure" transform="${at['wheel-figure']?.transform}">${at['wheel-figure']?.text}</text>` +
    (stops === null ? '' : word(4, 292, `stop at ${degrees(stops.forwardDeg)} and ${degrees(stops.backDeg)}`))
  );
}

/** The block cut through the tappet's bore; the rod goes up and down in it. */
function tappet(at: Moves, pattern: string): string {
  const { left, right, top, bottom } = BLOCK;
  const half = 15;
  const side = (inner: number, outer: number) =>
    `M${inner} ${top}H${outer}V${bottom}Q${num((3 * inner + outer) / 4)} ${bottom + 6} ${num((inner + outer) / 2)} ${bottom}T${inner} ${bottom}Z`;
  return (
    `<g data-part="rod" transform="${at.rod?.transform}"><path class="part" d="M-6 0H6V${ROD.length}H-6Z"/></g>` +
    cut(side(ROD.x - half, left), pattern) +
    cut(side(ROD.x + half, right), pattern) +
    centreLine(`M${ROD.x} 2V${bottom + 8}`) +
    word(SIZE.width - 4, top - 8, 'rod', 'end')
  );
}

/** The cam gear turns once while the crank turns twice: its mark tells the turns apart. */
function gear({ turn }: View, at: Moves): string {
  const { x, y, radius } = GEAR;
  let teeth = '';
  for (let deg = 0; deg < 360; deg += 15) teeth += radial(deg, radius, radius + 5);
  return (
    `<g transform="translate(${x} ${y})"><g data-part="gear-mark" transform="${at['gear-mark']?.transform}">` +
    `<path class="line-heavy" d="${teeth}"/><circle class="part" r="${radius}"/><path class="scene-scribed" d="M0 -${radius - 1}V-${radius - 12}"/></g>` +
    `<circle class="part" r="6"/>${centreLine(`M-${radius + 8} 0H${radius + 8}`)}</g>` +
    word(SIZE.width - 4, 292, `cam gear: turn ${turn}`, 'end')
  );
}
