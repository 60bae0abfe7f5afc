import { cases as cosine } from './cosine/cases.ts';
import { cases as gaugeStudy, qualityToolsCases, sixSigmaCases } from './gauge-study/cases.ts';
import { cases as gum } from './gum/cases.ts';
import { cases as iso14253 } from './iso-14253/cases.ts';
import { cases as jcgm106 } from './jcgm-106/cases.ts';
import { cases as jisB7503 } from './jis-b7503/cases.ts';
import { cases as knowledgeTracing } from './knowledge-tracing/cases.ts';
import { cases as lobeEvents } from './lobe-events/cases.ts';
import { mavroCases, cases as nistStrd } from './nist-strd/cases.ts';
import type { PublishedCase } from './published-case.ts';
import { cases as shopJobs } from './shop-jobs/cases.ts';
import { cases as studentT } from './student-t/cases.ts';
import { cases as torque } from './torque/cases.ts';

/** Every value of the table, by folder. */
export const ALL_CASES: Readonly<Record<string, readonly PublishedCase[]>> = {
  'jcgm-106': jcgm106,
  'iso-14253': iso14253,
  gum,
  'student-t': studentT,
  'nist-strd': nistStrd,
  'gauge-study': gaugeStudy,
  torque,
  cosine,
  'jis-b7503': jisB7503,
  'shop-jobs': shopJobs,
  'knowledge-tracing': knowledgeTracing,
  'lobe-events': lobeEvents,
};

/** Sets whose data may not be copied here; null where they are not at hand. They are in no table. */
export const KEPT_APART: Readonly<Record<string, readonly PublishedCase[] | null>> = {
  'NIST StRD Mavro': mavroCases(),
  'qualityTools vignette': qualityToolsCases(),
  'Six Sigma with R': sixSigmaCases(),
};
