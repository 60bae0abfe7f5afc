import type { Program } from '../program/index.ts';
import { uuidOfName } from '../web/uuid.ts';
import type { Competency } from './queries.ts';

/** A link as CASE writes it. */
interface CaseLink {
  readonly title: string;
  readonly identifier: string;
  readonly uri: string;
}

/** Where a competency of the program is published. */
export function itemAddress(address: string, uuid: string): string {
  return `${address}/ims/case/v1p1/CFItems/${uuid}`;
}

function packageAddress(address: string, program: Program): string {
  return `${address}/ims/case/v1p1/CFPackages/${program.uuid}`;
}

/**
 * A competency as a CFItem. Source: 1EdTech CASE 1.1, field names as several independent implementations agree on them; no schema file of it was at
 * hand to check against.
 */
export function caseItem(competency: Competency, program: Program, address: string) {
  const { uuid, code, title, statement, course, inForceFrom } = competency;
  return {
    ...{ identifier: uuid, uri: itemAddress(address, uuid), fullStatement: statement || title },
    ...{ humanCodingScheme: code, abbreviatedStatement: title, CFItemType: 'Competency' },
    ...(course === '' ? {} : { conceptKeywords: [course] }),
    CFDocumentURI: documentLink(program, address),
    lastChangeDateTime: inForceFrom,
  };
}

/** The program's competencies as a CASE package: the document, its items by course and code, and where each belongs. */
export function casePackage(competencies: readonly Competency[], program: Program, address: string) {
  const changed = competencies.map(({ inForceFrom }) => inForceFrom).sort();
  const document = documentLink(program, address);
  return {
    CFDocument: {
      ...{ identifier: document.identifier, uri: document.uri, title: document.title },
      creator: program.name || 'A program that keeps its record with Dialbench',
      lastChangeDateTime: changed.at(-1) ?? new Date(0).toISOString(),
      CFPackageURI: { ...document, uri: packageAddress(address, program) },
    },
    CFItems: competencies.map((one) => caseItem(one, program, address)),
    CFAssociations: competencies.map((one, index) => ({
      // The same each time, so that whoever takes the package again sees that nothing moved.
      identifier: uuidOfName(`${one.uuid} isChildOf ${program.uuid}`),
      uri: `${itemAddress(address, one.uuid)}#isChildOf`,
      associationType: 'isChildOf',
      sequenceNumber: index + 1,
      originNodeURI: { title: one.title, identifier: one.uuid, uri: itemAddress(address, one.uuid) },
      destinationNodeURI: document,
      lastChangeDateTime: one.inForceFrom,
    })),
  };
}

function documentLink(program: Program, address: string): CaseLink {
  return {
    title: `Competencies${program.name === '' ? '' : ` of ${program.name}`}`,
    identifier: program.uuid,
    uri: `${address}/ims/case/v1p1/CFDocuments/${program.uuid}`,
  };
}
