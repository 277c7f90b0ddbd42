import { type Tag, tagUnder } from '../page-plan.ts';
import { TYPE } from '../paper-style.ts';
import { addHeading, addParagraph, type Sheet } from '../sheet.ts';
import type { PaperOutcome, PaperPartUsed, PaperWork } from '../work-record-paper.ts';
import type { WorkRecordWords } from '../work-record-words.ts';
import { addBeforeAfter } from './before-after.ts';
import { addGaugeLegend } from './gauge-legend.ts';
import { addLabelledBullets } from './labelled-bullets.ts';
import { addPillHeading, type PillLook } from './pill-heading.ts';

/** For each finding: what it was, what was done about it, the readings, the parts. */
export function addWorks(
  sheet: Sheet<WorkRecordWords>,
  root: Tag,
  works: readonly PaperWork[],
): void {
  if (works.length === 0) return;
  const section = tagUnder(root, 'Sect');
  const isAnyDone = works.some(({ outcome }) => outcome.outcome === 'done');
  addHeading(sheet, section, sheet.words.works[isAnyDone ? 'done' : 'found']);
  const measurements = works.flatMap(({ readings }) =>
    readings.flatMap(({ before, after }) => [before, after].filter((one) => one !== undefined)),
  );
  addGaugeLegend(sheet, section, measurements);
  works.forEach((work, index) => {
    addWork(sheet, tagUnder(section, 'Sect'), work, index === 0 ? 0 : 18);
  });
}

const LOOK: Record<PaperOutcome['outcome'], PillLook> = {
  done: 'full',
  not_done: 'warning',
  not_agreed: 'outlined',
};

function addWork(
  sheet: Sheet<WorkRecordWords>,
  section: Tag,
  work: PaperWork,
  spaceAbovePt: number,
): void {
  const { words } = sheet;
  const { name, outcome, system } = work;
  const pill = words.outcome[outcome.outcome];
  addPillHeading(sheet, section, { name, pill, look: LOOK[outcome.outcome] }, spaceAbovePt);
  addParagraph(sheet, section, system ? words.inSystem(system) : '', TYPE.small, {
    keepWithNext: true,
  });
  addParagraph(sheet, section, work.explanation, TYPE.body, {
    spaceAbovePt: 3,
    keepWithNext: true,
  });
  addParagraph(sheet, section, outcomeText(words, outcome), TYPE.strong, {
    spaceAbovePt: 3,
    keepWithNext: work.readings.length > 0,
  });
  for (const reading of work.readings) addBeforeAfter(sheet, section, reading);
  addLabelledBullets(sheet, section, words.observations, work.observations);
  addLabelledBullets(sheet, section, words.doubts, work.doubts ?? []);
  addLabelledBullets(
    sheet,
    section,
    words.partsUsed,
    work.parts.map((part) => partText(words, part)),
  );
  addLabelledBullets(
    sheet,
    section,
    words.partsLeftOver,
    work.partsLeftOver.map(
      ({ name, quantityText, reason }) => `${name}, ${quantityText}: ${reason}`,
    ),
  );
}

function outcomeText(words: WorkRecordWords, outcome: PaperOutcome): string {
  switch (outcome.outcome) {
    case 'done': {
      const { task, isReset, laborWarrantyUntilText } = outcome;
      const done = words.done(task);
      if (!laborWarrantyUntilText) return done;
      const again = isReset ? words.resetAgain : words.warranty;
      return `${done} ${again(laborWarrantyUntilText)}`;
    }
    case 'not_done':
      return words.notDone(outcome.task, outcome.reason);
    case 'not_agreed':
      return words.notAgreed;
  }
}

/** 'Run capacitor, 1, serial 0000. You were given the old one, serial 1111.' */
function partText(words: WorkRecordWords, part: PaperPartUsed): string {
  const { name, quantityText, serial, oldPart, oldSerial } = part;
  const put = [name, quantityText, ...(serial ? [words.serial(serial)] : [])].join(', ');
  if (oldPart === undefined) return `${put}.`;
  const old = [words.oldPart[oldPart], ...(oldSerial ? [words.serial(oldSerial)] : [])].join(', ');
  return `${put}. ${old}.`;
}
