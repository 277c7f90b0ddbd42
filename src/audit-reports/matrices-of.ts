import type { ReportSection } from '../documents/index.ts';
import type { ReportedPattern } from './contract.ts';
import { measureLabels } from './measure-labels.ts';
import { shareText, TELLING_MIN } from './share-text.ts';

type By = ReportedPattern['by'];
type Side = ReportedPattern['side'];

/**
 * Every share by whom and by what, a table for each side: what is done well comes first. They are the
 * figures of the pictures, and of what is not drawn. Where nobody has jobs enough nothing is printed.
 */
export function matricesOf(
  patterns: readonly ReportedPattern[],
  order: readonly By[],
): ReportSection[] {
  return order.flatMap((by) =>
    SIDES.flatMap((side) => {
      const own = patterns.filter(
        (pattern) => pattern.by === by && pattern.side === side && tellsSomething(pattern),
      );
      return own.length === 0 ? [] : [matrixOf(own, by, side)];
    }),
  );
}

const SIDES: readonly Side[] = ['praise', 'look'];

const WHOSE: Record<By, string> = {
  technician: 'Technician',
  call_taker: 'Who took the call',
  task: 'Task',
  part_category: 'Kind of part',
  month: 'Month',
};

const WHAT: Record<Side, string> = {
  praise: 'What is done well',
  look: 'What asks for a look',
};

function matrixOf(patterns: readonly ReportedPattern[], by: By, side: Side): ReportSection {
  const names = new Map(
    patterns.flatMap(({ rows }) => rows.map(({ subject, name }) => [subject, name] as const)),
  );
  const subjects = [...names].sort(([, one], [, other]) => (one < other ? -1 : 1));
  return {
    heading: `${WHAT[side]}, by ${WHOSE[by].charAt(0).toLowerCase()}${WHOSE[by].slice(1)}`,
    texts: [
      patterns.map((pattern) => `${labelOf(pattern)}: ${lower(pattern.happened)}.`).join(' '),
    ],
    table: {
      columns: [WHOSE[by], ...patterns.map(labelOf)],
      rows: subjects.map(([subject, name]) => ({
        name,
        cells: patterns.map(({ rows }) => cellOf(rows.find((row) => row.subject === subject))),
      })),
    },
  };
}

function cellOf(row: { count: number; trials: number } | undefined): string {
  return row === undefined ? '' : shareText(row.count, row.trials);
}

function tellsSomething({ rows }: ReportedPattern): boolean {
  return rows.some(({ trials }) => trials >= TELLING_MIN);
}

function labelOf({ measure, happened }: ReportedPattern): string {
  const labels: Record<string, string> = measureLabels;
  return labels[measure] ?? happened;
}

function lower(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
