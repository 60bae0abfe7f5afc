import type { AccountsTables } from '../accounts/tables.ts';
import type { AttemptsTables } from '../attempts/tables.ts';
import type { AuditTables } from '../audit/tables.ts';
import type { CompetenciesTables } from '../competencies/tables.ts';
import type { CredentialsTables } from '../credentials/tables.ts';
import type { DisclosuresTables } from '../disclosures/tables.ts';
import type { DrillsTables } from '../drills/tables.ts';
import type { FloorTables } from '../floor/tables.ts';
import type { GaugeStudyTables } from '../gauge-study/tables.ts';
import type { LabSheetsTables } from '../labsheets/tables.ts';
import type { LessonsTables } from '../lessons/tables.ts';
import type { PaperTables } from '../paper/tables.ts';
import type { ProgramTables } from '../program/tables.ts';
import type { ReviewTables } from '../review/tables.ts';
import type { SectionsTables } from '../sections/tables.ts';
import type { ShopTables } from '../shop/tables.ts';
import type { SignOffsTables } from '../sign-offs/tables.ts';
import type { TranscriptsTables } from '../transcripts/tables.ts';
import type { VisitTables } from '../visit/tables.ts';

/** What the chain holds; see chain.ts. */
interface ChainTables {
  chain: { seq: number; tab: string; op: '+' | '~' | '-'; key: string; at: string; hash: Buffer };
}

/** Every table, gathered from the rooms that own them. */
export interface Database
  extends AccountsTables,
    SectionsTables,
    LabSheetsTables,
    AttemptsTables,
    ReviewTables,
    CompetenciesTables,
    DrillsTables,
    AuditTables,
    CredentialsTables,
    DisclosuresTables,
    LessonsTables,
    ShopTables,
    SignOffsTables,
    GaugeStudyTables,
    FloorTables,
    PaperTables,
    ProgramTables,
    VisitTables,
    TranscriptsTables,
    ChainTables {}
