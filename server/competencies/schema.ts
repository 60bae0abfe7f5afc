import type { GradedAttempt } from '../review/index.ts';

export interface RunView {
  readonly id: string;
  readonly itemTitle: string;
  readonly sectionWords: string;
  readonly tryNumber: number;
  readonly points: number;
  readonly changed: boolean;
  readonly handedInAt: string;
  readonly handedInWhen: string;
  readonly counts: boolean;
  readonly reasons: readonly string[];
}

export interface StudentView {
  readonly name: string;
  readonly number: string;
  readonly runs: readonly RunView[];
  readonly missing: readonly string[];
}

export interface CompetencyView {
  readonly id: number;
  readonly code: string;
  readonly title: string;
  readonly ruleWords: string;
  readonly ruleVersion: number;
  readonly inForceFrom: string;
  readonly inForceWhen: string;
  readonly signOffs: number;
  readonly meeting: readonly StudentView[];
  readonly trying: readonly StudentView[];
}

/** views/competencies/list.eta */
export interface CompetenciesPage {
  readonly title: string;
  readonly wide: true;
  readonly competencies: readonly CompetencyView[];
}

/** views/competencies/evidence.eta */
export interface EvidencePage {
  readonly title: string;
  readonly wide: true;
  readonly scripts: readonly string[];
  readonly competency: { readonly code: string; readonly title: string };
  readonly counts: boolean;
  readonly reasons: readonly string[];
  readonly graded: GradedAttempt;
}
