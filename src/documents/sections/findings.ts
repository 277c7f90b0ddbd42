import { type Tag, tagUnder } from '../page-plan.ts';
import type { PaperFinding, PaperStanding } from '../paper-parts.ts';
import { TYPE } from '../paper-style.ts';
import type { PaperWords } from '../paper-words.ts';
import { addHeading, addParagraph, type Sheet } from '../sheet.ts';
import { addGaugeLegend } from './gauge-legend.ts';
import { addLabelledBullets } from './labelled-bullets.ts';
import { addMeasurement } from './measurement.ts';
import { addPillHeading, type PillLook } from './pill-heading.ts';

/** Each finding in plain words, with how sure it is and every reading beside its limit. */
export function addFindings(sheet: Sheet, root: Tag, findings: readonly PaperFinding[]): void {
  if (findings.length === 0) return;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, sheet.words.findings);
  const measurements = findings.flatMap((finding) => finding.measurements);
  addGaugeLegend(sheet, section, measurements);
  findings.forEach((finding, index) => {
    addFinding(sheet, tagUnder(section, 'Sect'), finding, index === 0 ? 0 : 16);
  });
}

const LOOK: Record<PaperStanding, PillLook> = {
  proven: 'full',
  supported: 'tinted',
  unproven: 'outlined',
  contradicted: 'warning',
};

function addFinding(sheet: Sheet, section: Tag, finding: PaperFinding, spaceAbovePt: number): void {
  const { words } = sheet;
  const { name, standing } = finding;
  const pill = words.standing[standing];
  addPillHeading(sheet, section, { name, pill, look: LOOK[standing] }, spaceAbovePt);
  addParagraph(sheet, section, standingMeaning(words, finding), TYPE.small, {
    keepWithNext: true,
  });
  addParagraph(sheet, section, finding.explanation, TYPE.body, {
    spaceAbovePt: 3,
    keepWithNext: finding.measurements.length > 0,
  });
  const goesOn = [finding.observations, finding.doubts, finding.cautions].some(isNotEmpty);
  finding.measurements.forEach((measurement, index) => {
    const isLast = index === finding.measurements.length - 1;
    addMeasurement(sheet, section, measurement, isLast && goesOn);
  });
  addLabelledBullets(sheet, section, words.observations, finding.observations);
  addLabelledBullets(sheet, section, words.doubts, finding.doubts);
  addLabelledBullets(sheet, section, words.beCareful, finding.cautions);
}

function standingMeaning(words: PaperWords, finding: PaperFinding): string {
  const { standing, speaksAgainst, offeredBecause } = finding;
  const meaning =
    speaksAgainst === undefined
      ? words.standingMeaning[standing]
      : words.speaksAgainst(speaksAgainst);
  if (offeredBecause === undefined) return meaning;
  return `${meaning} ${words.offeredBecause(offeredBecause)}`;
}

function isNotEmpty(texts: readonly string[]): boolean {
  return texts.length > 0;
}
