import { defineDialFace } from './elements/dial-element.ts';
import { defineLiftFigure } from './elements/lift-figure.ts';

defineDialFace();
defineLiftFigure();
