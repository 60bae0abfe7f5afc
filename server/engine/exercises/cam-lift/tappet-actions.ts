import { restMm } from '../../tappet/height.ts';
import { type CamLiftBench, lobeAt, rollerAt } from './bench.ts';
import { settled } from './indicator.ts';
import { touchBezel } from './indicator-actions.ts';
import { cannot, type Step, slide, still } from './moments.ts';
import { camSurfaceMm } from './perceive.ts';
import { rollerLooks } from './roller.ts';
import { type CamLiftState, RIG_AS_FOUND, TAPPET_OUT, withoutIndicator } from './state.ts';

/** The set-up starts afresh at another pump position; the crank stays where it is. */
export function move(bench: CamLiftBench, state: CamLiftState, position: number): Step {
  if (!Number.isInteger(position) || bench.lobes[position - 1] === undefined)
    return cannot(bench, state, 'no-such-position');
  const moved = {
    ...state,
    position,
    tappet: TAPPET_OUT,
    indicator: null,
    rig: RIG_AS_FOUND,
    clamped: false,
    zeroedAtCrankDeg: null,
  };
  return still(bench, moved, { code: 'moved', position });
}

/** Looks at the roller: it can be seen only while the tappet is out. */
export function inspect(bench: CamLiftBench, state: CamLiftState): Step {
  if (state.position === null) return cannot(bench, state, 'choose-a-position');
  if (state.tappet.in) return cannot(bench, state, 'tappet-is-in');
  const seen = { ...state, rollersSeen: [...new Set([...state.rollersSeen, state.position])] };
  return still(bench, seen, ...rollerLooks(rollerAt(bench, state.position)).map((code) => ({ code })));
}

export function seat(bench: CamLiftBench, state: CamLiftState, position: number): Step {
  const { tappet: truth } = lobeAt(bench, position);
  const again = state.tappet.in;
  const slotOnPin = state.tappet.slotOnPin || truth.fault !== 'slot-off-pin';
  // A dull stop gives way to a second push; a slot off its pin never does.
  const hungMm = !slotOnPin || (truth.fault === 'dull-stop' && !again) ? truth.hungMm : 0;
  const heightMm = restMm(camSurfaceMm(bench, position, state.camCrankDeg), hungMm);
  // Nothing can be done to the tappet from above with the indicator standing on it.
  const seated = withoutIndicator({ ...state, tappet: { in: true, slotOnPin, hungMm, heightMm } });
  return still(bench, seated, { code: !slotOnPin ? 'far-up' : hungMm > 0 ? 'dull-stop' : 'metal-on-metal' });
}

export function turnTappet(bench: CamLiftBench, state: CamLiftState): Step {
  if (state.position === null) return cannot(bench, state, 'choose-a-position');
  if (!state.tappet.in) return cannot(bench, state, 'tappet-is-out');
  const found = !state.tappet.slotOnPin;
  const hungMm = found ? 0 : state.tappet.hungMm;
  const heightMm = found ? camSurfaceMm(bench, state.position, state.camCrankDeg) : state.tappet.heightMm;
  const turned = withoutIndicator({ ...state, tappet: { in: true, slotOnPin: true, hungMm, heightMm } });
  return still(bench, turned, { code: found ? 'slot-finds-pin' : 'turns-freely' });
}

/** Pressing brings a hung or stuck tappet down on the cam, except one whose slot is off its pin. */
export function press(bench: CamLiftBench, state: CamLiftState): Step {
  if (!state.tappet.in) return cannot(bench, state, 'tappet-is-out');
  const hungMm = state.tappet.slotOnPin ? 0 : state.tappet.hungMm;
  const heightMm = restMm(camSurfaceMm(bench, state.position, state.camCrankDeg), hungMm);
  const dropped = heightMm < state.tappet.heightMm - 1e-9;
  const down = settled(bench, { ...state, tappet: { ...state.tappet, hungMm, heightMm } });
  const pressed = touchBezel(bench, down, 0.5);
  const code =
    state.indicator === null
      ? dropped
        ? 'tappet-drops'
        : 'pointer-holds'
      : dropped
        ? 'pointer-drops'
        : 'pointer-holds';
  return slide(bench, state, pressed, { code });
}
