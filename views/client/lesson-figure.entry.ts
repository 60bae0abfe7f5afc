import { defineDialFace } from './elements/dial-element.ts';
import { defineLiveFigure } from './elements/live-figure.ts';

defineDialFace();
defineLiveFigure();
