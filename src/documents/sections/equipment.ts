import { layText } from '../lay-text.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import type { PaperFact, PaperSystem } from '../paper-parts.ts';
import { PAGE, TYPE } from '../paper-style.ts';
import { addParagraph, addRow, hairline, type Sheet, stack } from '../sheet.ts';

/** The machines a paper speaks of, each with what its nameplate says. */
export function addEquipment(sheet: Sheet, root: Tag, systems: readonly PaperSystem[]): void {
  if (systems.length === 0) return;
  const section = tagUnder(root, 'Sect');
  addParagraph(sheet, section, sheet.words.equipment, TYPE.label, {
    spaceAbovePt: 10,
    keepWithNext: true,
  });
  for (const system of systems) addSystem(sheet, section, system);
}

const SYSTEM_NAME_WIDTH_PT = 168;

function addSystem(sheet: Sheet, section: Tag, system: PaperSystem): void {
  const block = tagUnder(section, 'Div');
  const name = stack(
    sheet,
    block,
    [
      { text: system.name, style: TYPE.strong },
      { text: system.model ?? '', style: TYPE.small },
    ],
    { xPt: PAGE.leftPt, topPt: 5, widthPt: SYSTEM_NAME_WIDTH_PT },
  );
  const facts = system.nameplate.map(unbroken).join('; ');
  const nameplate = layText(
    facts,
    TYPE.small,
    {
      xPt: PAGE.leftPt + SYSTEM_NAME_WIDTH_PT + 14,
      topPt: 6,
      widthPt: PAGE.contentWidthPt - SYSTEM_NAME_WIDTH_PT - 14,
    },
    sheet.measure,
  );
  const nameplateCells = facts === '' ? [] : [{ tag: tagUnder(block, 'P'), inks: nameplate.inks }];
  addRow(sheet, {
    heightPt: Math.max(name.heightPt, nameplate.heightPt) + 10,
    spaceAbovePt: 2,
    cells: [...name.cells, ...nameplateCells],
    decoration: [hairline(0)],
  });
}

/** A fact is never broken over two lines: its spaces hold its words together. */
function unbroken({ label, text }: PaperFact): string {
  return `${label} ${text}`.replaceAll(' ', '\u00A0');
}
