/** The drawings a page may hold. `plot.ts` stands apart because it needs libraries only the server has. */
export type { DrawingNames } from './svg.ts';
export { crankSvg, crankTransform, effortSvg, effortTransform, effortWord } from './crank.ts';
export { cutawaySvg } from './cutaway.ts';
export { dialSvg, numeralAt } from './dial.ts';
export { type DialScale, type DialStand, dialScale, partTransforms, pointerDeg } from './dial-geometry.ts';
export { limitBarSvg, type VerdictWord } from './limit-bar.ts';
