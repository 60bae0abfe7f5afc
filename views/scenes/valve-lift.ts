import type { BriefOf, ViewOf } from '../../server/engine/index.ts';
import { drawing, escapeText, num, radial } from '../drawing/svg.ts';
import { type HeldGauge, heldMoves, heldSvg, offRest, unitsPerMm } from './held-gauge.ts';
import { centreLine, cut, leader, part, sectionLines, word } from './paper.ts';
import type { Moves, Scene, SceneMoment } from './types.ts';

type Brief = BriefOf<'valve-lift'>;
type View = ViewOf<'valve-lift'>;
type Name = Brief['valves'][number];
type Place = NonNullable<View['spot']>['at'];

const SIZE = { width: 320, height: 300 } as const;
const MM_PER_IN = 25.4;
/** The rocker's shaft, and its arms to pushrod and valve: of the usual ratio. */
const SHAFT = { x: 158, y: 130, toPushrod: 52, toValve: 78 } as const;
const PUSHROD = { x: SHAFT.x - SHAFT.toPushrod, top: 137 } as const;
const VALVE = { x: SHAFT.x + SHAFT.toValve, tip: 139, retainer: 150, seat: 256 } as const;
/** The face of the head that the spring stands on, and the one above the chamber. */
const HEAD = { top: 208, bottom: 256 } as const;
const DAMPER = { x: 46, y: 236, radius: 34 } as const;
const FREE = 58;
/** Lash is a hair: it is drawn so much wider that it can be seen. Degrees of the rocker. */
const LOOSE_DEG = -2.2;

/** Where the tip stands with the valve shut. */
const TIPS: Readonly<Record<Place, { readonly x: number; readonly y: number }>> = {
  pushrod: { x: PUSHROD.x, y: PUSHROD.top },
  retainer: { x: VALVE.x + 17, y: VALVE.retainer },
  rocker: { x: VALVE.x - 4, y: SHAFT.y - 10 },
};

/** Pushrod, rocker and valve from the side, with the gauge where it stands, and the mark on the crank's damper. */
export const valveScene: Scene<Brief, View> = {
  draw(brief, view, names) {
    const at = moved(brief, view, {
      deg: view.sample.workDeg,
      plungerMm: view.sample.plungerMm,
      effort: null,
    });
    const gauge = gaugeOf(brief, view);
    const id = escapeText(names.id);
    const body =
      sectionLines(`${id}-head`, 45) +
      valve(at, `${id}-head`) +
      pushrod(at) +
      rocker(at, view.spot?.at === 'pushrod') +
      damper(view, at) +
      (gauge === null ? '' : heldSvg(gauge, brief.dial, view.sample.plungerMm)) +
      word(
        4,
        16,
        view.spot === null ? 'no valve chosen' : `cylinder ${view.spot.cylinder}, ${view.spot.valve}`,
      );
    return drawing(
      { ...names, description: names.description ?? inWords(brief, view) },
      SIZE,
      'scene-drawing',
      body,
    );
  },
  move: (brief, view, moment) => {
    const { damper: mark, ...work } = moved(brief, view, moment);
    if (mark === undefined) return {};
    return view.indicator === 'off' ? { damper: mark } : { damper: mark, ...work };
  },
  describe: inWords,
};

/** Where everything that moves stands at a moment. */
function moved(brief: Brief, view: View, moment: SceneMoment): Moves {
  const { sample, spot } = view;
  const perMm = unitsPerMm(FREE, brief.dial);
  const off = offRest(perMm, { deg: sample.workDeg, plungerMm: sample.plungerMm }, moment);
  const gauge = gaugeOf(brief, view);
  const lifts = liftsAt(brief, view, spot);
  // A tip that is off the work takes nothing with it: no part goes beyond where it is shut.
  const up = Math.max(0, perMm * lifts.lobeMm + (spot?.at === 'pushrod' ? off.work : 0));
  const aside = spot?.at === 'pushrod';
  const open = aside ? 0 : Math.max(0, perMm * lifts.valveMm - off.work);
  const driven = (open * SHAFT.toPushrod) / SHAFT.toValve;
  const tilt = open > 0 ? deg(open / SHAFT.toValve) : loose(brief);
  const squeezed = (HEAD.top - VALVE.retainer - 6 - open) / (HEAD.top - VALVE.retainer - 6);
  return {
    damper: { transform: `rotate(${num(moment.deg ?? sample.workDeg ?? 0)})` },
    pushrod: { transform: `translate(${PUSHROD.x} ${num(PUSHROD.top - (aside ? up : driven))})` },
    rocker: { transform: `translate(${SHAFT.x} ${SHAFT.y}) rotate(${num(tilt)})` },
    valve: { transform: `translate(${VALVE.x} ${num(open)})` },
    spring: { transform: `translate(${VALVE.x} ${HEAD.top}) scale(1 ${num(squeezed)})` },
    ...(gauge === null ? {} : heldMoves(gauge, brief.dial, sample.plungerMm, off)),
  };
}

const deg = (rad: number) => (rad * 180) / Math.PI;

const loose = ({ tappets }: Brief) => (tappets === 'solid' ? LOOSE_DEG : 0);

/** The gauge on what it stands on, as far from where that is shut as an eye would see; null where it is off. */
function gaugeOf(brief: Brief, view: View): HeldGauge | null {
  const { spot, indicator } = view;
  if (spot === null || indicator === 'off') return null;
  const perMm = unitsPerMm(FREE, brief.dial);
  const { lobeMm, valveMm } = liftsAt(brief, view, spot);
  const { x, y } = TIPS[spot.at];
  const stands = spot.at === 'pushrod' ? y - perMm * lobeMm : y + perMm * valveMm;
  return { x, y: stands, free: FREE, barrel: 62, arm: spot.at === 'pushrod' ? 'left' : 'right' };
}

/** Crank degrees from a cylinder's firing top dead centre to where its valve is most open, and from there to where it is shut. */
const MOST_OPEN_DEG = { exhaust: 250, intake: 470 } as const;
const FLANK_DEG = 124;

/** How far lobe and valve lift at the crank's place by the specification, millimetres: near enough to draw, and nothing of this engine's own. */
function liftsAt(brief: Brief, { crankDeg }: View, name: Name | null): { lobeMm: number; valveMm: number } {
  if (name === null) return { lobeMm: 0, valveMm: 0 };
  const { firingOrder, specification, tappets } = brief;
  const fires = (720 / firingOrder.length) * firingOrder.indexOf(name.cylinder);
  const from = ((((crankDeg - fires - MOST_OPEN_DEG[name.valve]) % 720) + 1080) % 720) - 360;
  if (Math.abs(from) >= FLANK_DEG) return { lobeMm: 0, valveMm: 0 };
  const mm = specification.unit === 'in' ? MM_PER_IN : 1;
  const { lower, upper, lash } = specification[name.valve];
  const lashMm = tappets === 'hydraulic' ? 0 : lash * mm;
  const most = ((lower + upper) / 2) * mm + lashMm;
  const rise = most * 0.5 * (1 + Math.cos((Math.PI * from) / FLANK_DEG));
  return { lobeMm: rise / specification.ratio, valveMm: Math.max(0, rise - lashMm) };
}

function inWords(brief: Brief, view: View): string {
  const { spot, indicator, crankDeg } = view;
  const crank = `The crank stands at ${crankDeg}° of two turns, from firing top dead centre of cylinder 1.`;
  if (spot === null)
    return `Pushrod, rocker and valve from the side. ${crank} The indicator is off the engine and no valve has been chosen.`;
  const where = {
    pushrod: 'in the cup of the pushrod, the rocker slid aside',
    retainer: 'on the spring retainer of the valve',
    rocker: 'on the rocker, over the valve',
  }[spot.at];
  const tip =
    indicator === 'on'
      ? `The indicator’s tip stands ${where}.`
      : `The tip is to stand ${where}; the indicator has not been set down.`;
  return `Pushrod, rocker and valve of cylinder ${spot.cylinder}, ${spot.valve}, from the side. ${crank} ${liftWords(brief, view)}${tip}`;
}

/** What the eye sees of the valve; with the rocker slid aside nothing opens it. */
function liftWords(brief: Brief, view: View): string {
  if (view.spot === null || view.spot.at === 'pushrod') return '';
  const { lobeMm, valveMm } = liftsAt(brief, view, view.spot);
  if (lobeMm === 0) return 'The valve is shut. ';
  return valveMm > 1 ? 'The valve is open. ' : '';
}

/** The rocker on its shaft: its adjusting screw over the pushrod, its nose over the valve. Slid aside it is a dashed line. */
function rocker(at: Moves, aside: boolean): string {
  const { toPushrod, toValve } = SHAFT;
  const body = `M${-toPushrod - 10} -7Q${-toPushrod / 2} -14 -16 -17Q0 -22 16 -17Q${toValve / 2} -16 ${toValve - 6} -10Q${toValve + 7} -7 ${toValve + 6} 2Q${toValve + 1} 10 ${toValve - 6} 8Q${toValve - 12} 2 ${toValve / 2} 6Q24 12 14 17H-14Q-24 8 ${-toPushrod - 10} 3Z`;
  const screw = `M${-toPushrod - 4} -18H${-toPushrod + 4}V4A4 4 0 0 1 ${-toPushrod - 4} 4Z`;
  const nut = `M${-toPushrod - 8} -14H${-toPushrod + 8}V-7H${-toPushrod - 8}Z`;
  const drawn = aside
    ? `<path class="scene-to-come" d="${body}"/>`
    : `${part(screw)}${part(body)}${part(nut)}<circle class="part" r="13"/>`;
  return (
    `<g data-part="rocker" transform="${at.rocker?.transform}">${drawn}</g>` +
    `<circle class="part" cx="${SHAFT.x}" cy="${SHAFT.y}" r="9"/>` +
    centreLine(`M${SHAFT.x - 18} ${SHAFT.y}H${SHAFT.x + 18}M${SHAFT.x} ${SHAFT.y - 26}V${SHAFT.y + 26}`)
  );
}

/** A rod with a cup on top, broken off below. */
function pushrod(at: Moves): string {
  return (
    `<g data-part="pushrod" transform="${at.pushrod?.transform}"><path class="part" d="M-4.5 14H4.5V150Q2 155 0 150T-4.5 150Z"/>` +
    `<path class="part" d="M-8 -5H-5A5 5 0 0 0 5 -5H8V10Q8 14 4.5 14H-4.5Q-8 14 -8 10Z"/></g>` +
    word(PUSHROD.x + 12, 286, 'pushrod')
  );
}

/** The head cut through the guide; valve, spring and retainer in it. */
function valve(at: Moves, pattern: string): string {
  const { x, tip, retainer, seat } = VALVE;
  const { top, bottom } = HEAD;
  const left = `M${x - 66} ${top}H${x - 8}V${top - 12}H${x - 4}V${bottom - 10}H${x - 16}L${x - 24} ${bottom}H${x - 66}Q${x - 72} ${bottom - 12} ${x - 66} ${bottom - 24}T${x - 66} ${top}Z`;
  const right = `M${x + 78} ${top}H${x + 8}V${top - 12}H${x + 4}V${bottom - 10}H${x + 16}L${x + 24} ${bottom}H${x + 78}Z`;
  const tall = top - retainer - 6;
  let coil = `M-17 0`;
  for (let turn = 1; turn <= 6; turn += 1) coil += `L${turn % 2 === 1 ? 17 : -17} ${num((-tall * turn) / 6)}`;
  const stem = `M-3.5 ${tip}H3.5V${seat - 14}Q5 ${seat - 4} 24 ${seat}V${seat + 5}H-24V${seat}Q-5 ${seat - 4} -3.5 ${seat - 14}Z`;
  return (
    cut(left, pattern) +
    cut(right, pattern) +
    `<g data-part="spring" transform="${at.spring?.transform}"><path class="line-heavy" d="${coil}"/></g>` +
    `<g data-part="valve" transform="${at.valve?.transform}">${part(stem)}` +
    `${part(`M-23 ${retainer}H23V${retainer + 6}H11L7 ${retainer + 12}H-7L-11 ${retainer + 6}H-23Z`)}` +
    `${part(`M-6 ${retainer - 3}H6V${retainer + 6}H-6Z`)}</g>` +
    centreLine(`M${x} ${retainer + 18}V${seat + 14}`) +
    word(x + 30, 196, 'retainer') +
    leader(x + 44, 184, x + 20, retainer + 4)
  );
}

/** The damper on the front of the crank: its mark, and where in the two turns it is. */
function damper({ crankDeg }: View, at: Moves): string {
  const { x, y, radius } = DAMPER;
  let ticks = '';
  for (let mark = 0; mark < 360; mark += 30) ticks += radial(mark, radius, radius + 4);
  return (
    `<g transform="translate(${x} ${y})"><path class="line" d="${ticks}"/><g data-part="damper" transform="${at.damper?.transform}">` +
    `<circle class="part" r="${radius}"/><path class="scene-scribed" d="M0 -${radius - 1}V-${radius - 12}"/></g>` +
    `<circle class="part" r="7"/></g><path class="part-ink" d="M${x - 4} ${y - radius - 14}H${x + 4}L${x} ${y - radius - 3}Z"/>` +
    word(4, y + radius + 20, `${crankDeg}° of 720°`)
  );
}
