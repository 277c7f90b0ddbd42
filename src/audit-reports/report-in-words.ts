import type { PaperCompany, Report, ReportSection } from '../documents/index.ts';
import { formatCents } from '../documents/index.ts';
import type { AuditReport, ReportedPattern } from './contract.ts';
import type { NamedPlot } from './plots-of.ts';

/** What the owner's report says on paper. */
export function reportInWords(
  report: AuditReport,
  {
    company,
    period,
    madeText,
    plots,
  }: {
    company: PaperCompany;
    period: string;
    madeText: string;
    plots: readonly NamedPlot[];
  },
): Report {
  return {
    company,
    title: 'The audit of our work',
    facts: [period, `made ${madeText}`],
    lead: leadOf(report),
    createdAt: report.madeAt,
    sections: [
      foundSection(report),
      ...praiseSection(report),
      ...lookSection(report),
      ...bookSection(report),
      ...plots.map(({ plot }) => plotSection(plot)),
      ...(plots.length === 0 ? [TOO_FEW] : []),
      ...notJudgedSection(report),
      proofSection(report),
    ],
  };
}

const TOO_FEW: ReportSection = {
  heading: 'Each beside the others',
  texts: ['There are not enough jobs yet to compare people or months.'],
};

function leadOf({ jobs, billedCents, openCents, rules }: AuditReport): string {
  const looked = `${count(jobs, 'job')} ended and ${jobs === 1 ? 'was' : 'were'} looked at; ${formatCents(billedCents)} was billed for ${jobs === 1 ? 'it' : 'them'}.`;
  const open = rules.reduce((sum, rule) => sum + rule.open, 0);
  if (open === 0) return `${looked} Nothing waits for an answer.`;
  const owed = openCents === 0 ? '' : ` Together they come to ${formatCents(openCents)}.`;
  return `${looked} ${count(open, 'thing')} ask${open === 1 ? 's' : ''} for a look.${owed}`;
}

function foundSection({ rules }: AuditReport): ReportSection {
  return {
    heading: 'What has to hold of every job',
    texts: [
      'A flag asks for a look at the job’s file. There may be a good reason; it accuses nobody.',
    ],
    table: {
      columns: ['Rule', 'Open', 'To give back', 'Given back', 'Set aside'],
      rows: rules.map((rule) => ({
        name: rule.statement,
        detail: rule.source,
        cells: [
          ...[String(rule.open), formatCents(rule.openCents)],
          ...[formatCents(rule.givenBackCents), String(rule.dismissed)],
        ],
      })),
    },
  };
}

/** What stands out on the good side, and beside it what everybody has. */
function praiseSection({ patterns }: AuditReport): ReportSection[] {
  const praised = patterns.filter(({ side, by }) => side === 'praise' && by !== 'month');
  const rows = praised.flatMap((pattern) => sharesOf(pattern));
  if (rows.length === 0) return [];
  return [
    {
      heading: 'What is done well',
      texts: standingOut(praised),
      table: { columns: ['Who, and what', 'Jobs', 'Share', 'The others'], rows },
    },
  ];
}

function lookSection({ patterns, readings }: AuditReport): ReportSection[] {
  const read = readings.flatMap(({ rows }) => rows);
  const texts = [
    ...standingOut(patterns.filter(({ side }) => side === 'look')),
    ...read.filter(({ standing }) => standing === 'stands_out').map(inSentence),
  ];
  return texts.length === 0 ? [] : [{ heading: 'Where a look is worth it', texts }];
}

/** The book is judged too, so that a padded one does not pass. */
function bookSection({ book }: AuditReport): ReportSection[] {
  const tasks = book.tasks.filter(({ standing }) => standing === 'above_jobs');
  const parts = book.parts.filter(({ standing }) => standing === 'above_bills');
  const known =
    book.tasks.some(({ standing }) => standing !== 'not_enough_data') ||
    book.parts.some(({ bills }) => bills > 0);
  if (!known) return [];
  const texts = [...tasks, ...parts].map(({ sentence }) => sentence);
  const well = 'Its minutes are beside our own jobs, its costs beside what suppliers billed.';
  return [
    {
      heading: `The price book itself, version ${book.number}`,
      texts: texts.length === 0 ? [`${well} Nothing in it is above them.`] : [well, ...texts],
    },
  ];
}

function standingOut(patterns: readonly ReportedPattern[]): string[] {
  return patterns.flatMap(({ rows }) =>
    rows.filter(({ standing }) => standing === 'stands_out').map(inSentence),
  );
}

function inSentence({ name, sentence }: { name: string; sentence: string }): string {
  return `${name}. ${sentence}`;
}

function sharesOf({ happened, rows }: ReportedPattern) {
  return rows
    .filter(({ standing }) => standing !== 'not_enough_data')
    .map(({ name, comparedCount, comparedTrials, expectedCount }) => ({
      name: `${name}: ${happened.charAt(0).toLowerCase()}${happened.slice(1)}`,
      cells: [
        String(comparedTrials),
        percent(comparedCount / comparedTrials),
        percent(expectedCount / comparedTrials),
      ],
    }));
}

function plotSection(plot: NamedPlot['plot']): ReportSection {
  const { columns, rows } = plot.table;
  return {
    heading: plot.title,
    texts: [],
    plot,
    table: { columns, rows: rows.map(([name = '', ...cells]) => ({ name, cells })) },
  };
}

function notJudgedSection({ rules }: AuditReport): ReportSection[] {
  const missed = rules.filter(({ notJudged }) => notJudged > 0);
  if (missed.length === 0) return [];
  return [
    {
      heading: 'What could not be judged',
      texts: ['Where something is not on record, a rule says so instead of guessing.'],
      table: {
        columns: ['Rule', 'Jobs', 'Not known'],
        rows: missed.map(({ statement, notJudged, missing }) => ({
          name: statement,
          cells: [String(notJudged), missing.map((each) => each.replaceAll('_', ' ')).join(', ')],
        })),
      },
    },
  ];
}

/** Whoever keeps this page holds what the journal can be checked against. */
function proofSection({ journal: { position, hash, unsealed } }: AuditReport): ReportSection {
  return {
    heading: 'The journal behind it',
    texts: [
      `Everything above rests on what is in the journal, which was sealed up to entry ${position} with ${hash}. Keep this page away from the computer: with it anyone can prove later whether an entry before that was changed. ${count(unsealed, 'entry', 'entries')} had no seal yet.`,
    ],
  };
}

function count(figure: number, one: string, many = `${one}s`): string {
  return `${figure} ${figure === 1 ? one : many}`;
}

function percent(share: number): string {
  return `${Math.round(1_000 * share) / 10}%`;
}
