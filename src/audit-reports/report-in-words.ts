import type { PaperCompany, Plot, Report, ReportSection } from '../documents/index.ts';
import { formatCents } from '../documents/index.ts';
import type { AuditReport, ReportedPattern, ReportedRule } from './contract.ts';
import { countText } from './count-text.ts';
import { glanceOf } from './glance-of.ts';
import { matricesOf } from './matrices-of.ts';
import type { DrawnPlot } from './plots-of.ts';
import { ruleName } from './rule-name.ts';

/**
 * What the owner's report says on paper. Whoever has five minutes reads the first page: what is done
 * well beside what asks for a look, and the jobs to open first. Pictures come next, and behind them
 * every rule and figure.
 */
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
    plots: readonly DrawnPlot[];
  },
): Report {
  return {
    company,
    title: 'The audit of our work',
    facts: [period, `made ${madeText}`],
    lead: leadOf(report),
    ...(report.jobs > 0 && { glance: glanceOf(report) }),
    createdAt: report.madeAt,
    sections: [
      ...firstJobsSection(report),
      ...importedBillsSection(report),
      ...plots.filter(isOfPrices).map(({ plot }) => pricesSection(report, plot)),
      ...foundSection(report),
      ...praiseSection(report),
      ...lookSection(report),
      ...bookSection(report),
      ...plotSections(report, plots),
      ...matricesOf(report.patterns, [
        'technician',
        'call_taker',
        'task',
        'part_category',
        'month',
      ]),
      ...(report.jobs > 0 ? [rulesSection(report)] : []),
      proofSection(report),
    ],
  };
}

function leadOf({ jobs, billedCents, toLookAt, importedBills }: AuditReport): string {
  if (jobs === 0) {
    return importedBills.length === 0
      ? 'No job ended on these days, so there is nothing to look at.'
      : 'No job of ours ended on these days. The bills that were imported of them stand below.';
  }
  const looked = `${countText(jobs, 'job')} ended and ${jobs === 1 ? 'was' : 'were'} looked at; ${formatCents(billedCents)} was billed for ${jobs === 1 ? 'it' : 'them'}.`;
  if (toLookAt.jobs === 0) return `${looked} Nothing waits for an answer.`;
  return `${looked} On ${countText(toLookAt.jobs, 'job')} something asks for a look.`;
}

/** As many as leave room on the first page. */
const JOBS_PRINTED_MAX = 6;

function firstJobsSection({ toLookAt: { jobs, first } }: AuditReport): ReportSection[] {
  if (jobs === 0) return [];
  const printed = first.slice(0, JOBS_PRINTED_MAX);
  const which =
    jobs > printed.length
      ? ` These ${printed.length} of ${jobs.toLocaleString('en-US')} come to most.`
      : '';
  return [
    {
      heading: 'The first jobs to open',
      texts: [
        `A flag asks for a look at the job’s file. There may be a good reason; it accuses nobody.${which}`,
      ],
      table: {
        columns: ['Job', 'Ended', 'To give back'],
        rows: printed.map((job) => ({
          name: jobName(job),
          detail: `${job.rules.map(ruleName).join('; ')}. ${job.sentence}`,
          cells: [
            dayText(job.endedOn),
            job.openCents === 0 ? 'only a look' : formatCents(job.openCents),
          ],
        })),
      },
    },
  ];
}

function jobName({ ticketNumber, technicianName, rules }: ToLookAt): string {
  const isAboutSomebody = rules.some((code) => !ABOUT_NOBODY.includes(code));
  const whose = technicianName === null || !isAboutSomebody ? [] : [technicianName];
  return [`Ticket ${ticketNumber}`, ...whose].join(', ');
}

type ToLookAt = AuditReport['toLookAt']['first'][number];

/** What the company computes, whoever was there: the fee by its policy, the tax, the book. */
const ABOUT_NOBODY: readonly string[] = [
  'access_charged_twice',
  'differs_from_book',
  'fee_charged_twice',
  'fee_not_credited',
  'tax_wrong',
];

/** Bills that we did not compute are judged apart, and are in no other figure. */
function importedBillsSection({ importedBills }: AuditReport): ReportSection[] {
  if (importedBills.length === 0) return [];
  return [
    {
      heading: 'Imported bills of these days',
      texts: [
        'These bills came in as a file and were judged by themselves. They are in no other figure of this report; each stands with its reasons among the imports.',
      ],
      table: {
        columns: ['Whose bills', 'Bills', 'Billed', 'To look at', 'Too much', 'No fair price'],
        rows: importedBills.map((bills) => ({
          name: ORIGINS[bills.origin],
          detail: notLookedAt(bills.notLookedAt),
          cells: [
            ...[bills.bills.toLocaleString('en-US'), formatCents(bills.chargedCents)],
            ...[bills.flagged.toLocaleString('en-US'), formatCents(bills.overCents)],
            bills.notPriced.toLocaleString('en-US'),
          ],
        })),
      },
    },
  ];
}

const ORIGINS: Record<AuditReport['importedBills'][number]['origin'], string> = {
  own: 'Our own, of another time',
  other_company: 'Of another company',
};

function notLookedAt(bills: number): string {
  if (bills === 0) return '';
  const one = bills === 1;
  return `${countText(bills, 'bill')} of these ${one ? 'is' : 'are'} not judged yet: open ${one ? 'its' : 'their'} import once.`;
}

/** Rules with something to tell, whatever comes to most first. */
function foundSection({ rules }: AuditReport): ReportSection[] {
  const found = rules.filter((rule) => rule.open + rule.accepted + rule.dismissed > 0);
  if (found.length === 0) return [];
  return [
    {
      heading: 'What was found, rule by rule',
      texts: [
        'Of two flags about one charge only one is given back, so the column does not add up.',
      ],
      table: {
        columns: ['Rule', 'Open', 'To give back', 'Agreed', 'Given back', 'Set aside'],
        rows: [...found].sort(mostFirst).map((rule) => ({
          name: ruleName(rule.code),
          detail: rule.statement,
          cells: [
            ...[rule.open.toLocaleString('en-US'), dollars(rule.openCents)],
            ...[rule.accepted.toLocaleString('en-US'), dollars(rule.givenBackCents)],
            rule.dismissed.toLocaleString('en-US'),
          ],
        })),
      },
    },
  ];
}

function mostFirst(one: ReportedRule, other: ReportedRule): number {
  return other.openCents - one.openCents || other.open - one.open;
}

/** An amount that is nothing is left out: a page of zeros hides the rest. */
function dollars(amountCents: number): string {
  return amountCents === 0 ? '' : formatCents(amountCents);
}

/** Who does better than the others by more than chance, and beside it what everybody has. */
function praiseSection({ patterns }: AuditReport): ReportSection[] {
  const praised = patterns.filter(({ side, by }) => side === 'praise' && by !== 'month');
  const texts = standingOut(praised);
  return texts.length === 0 ? [] : [{ heading: 'Who does it well', texts }];
}

function lookSection({ patterns, readings }: AuditReport): ReportSection[] {
  const read = readings.flatMap(({ rows }) => rows);
  const texts = [
    ...standingOut(patterns.filter(({ side }) => side === 'look')),
    ...patterns
      .filter(({ by }) => by !== 'month')
      .flatMap(({ rows }) => rows.filter(({ standing }) => standing === 'fewer_than_others'))
      .map(inSentence),
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

/** The pictures in which something stands out, then the others. */
function plotSections({ jobs }: AuditReport, plots: readonly DrawnPlot[]): ReportSection[] {
  const compared = plots
    .filter((plot) => !isOfPrices(plot))
    .sort((one, other) => Number(other.standsOut) - Number(one.standsOut));
  if (compared.length === 0) return jobs === 0 ? [] : [TOO_FEW];
  return compared.map(({ plot }) => ({ heading: plot.title, texts: [], plot }));
}

function isOfPrices({ name }: DrawnPlot): boolean {
  return name === 'prices-by-work';
}

const TOO_FEW: ReportSection = {
  heading: 'Each beside the others',
  texts: ['There are not enough jobs yet to compare people or months.'],
};

function pricesSection({ prices }: AuditReport, plot: Plot): ReportSection {
  const { columns, rows } = plot.table;
  return {
    heading: plot.title,
    texts: notDrawn(prices),
    plot,
    table: { columns, rows: rows.map(([name = '', ...cells]) => ({ name, cells })) },
  };
}

/** Jobs with a charge that are in no row: one that went back in part was at no fair price. */
function notDrawn({ putRight, notJudged }: AuditReport['prices']): string[] {
  const told = [
    ...(putRight === 0
      ? []
      : [`On ${countText(putRight, 'job')} too much was billed, and has been given back since.`]),
    ...(notJudged === 0 ? [] : [`Of ${countText(notJudged, 'job')} nobody can tell.`]),
  ];
  return told.length === 0 ? [] : [`${told.join(' ')} These are not in the picture.`];
}

/** Every rule, and on how many jobs it was told and could not be; where it comes from, if named. */
function rulesSection({ rules }: AuditReport): ReportSection {
  const isAllJudged = rules.every(({ notJudged }) => notJudged === 0);
  return {
    heading: 'What has to hold of every job',
    texts: [
      'A rule is judged on the jobs that have what it is about: a bill, a sale, a reset; two are about imported bills alone. Where something is not on record it says so instead of guessing. A rule without a source is common practice.',
    ],
    table: {
      columns: ['Rule', 'Judged', ...(isAllJudged ? [] : ['Not judged'])],
      rows: rules.map((rule) => ({
        name: rule.statement,
        detail: besides(rule),
        cells: [rule.judged, ...(isAllJudged ? [] : [rule.notJudged])].map((jobs) =>
          jobs.toLocaleString('en-US'),
        ),
      })),
    },
  };
}

function besides({ source, missing }: ReportedRule): string {
  const named = capitalized(source.replace(COMMON_PRACTICE, ''));
  return [named, ...(missing.length === 0 ? [] : [`Not known: ${inWords(missing)}`])]
    .filter((text) => text !== '')
    .join('. ');
}

function capitalized(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

const COMMON_PRACTICE = /^Common practice, no source[;:]? ?/;

function inWords(codes: readonly string[]): string {
  return codes.map((code) => code.replaceAll('_', ' ')).join(', ');
}

/** Whoever keeps this page holds what the journal can be checked against. */
function proofSection({ journal: { position, hash, unsealed } }: AuditReport): ReportSection {
  return {
    heading: 'The journal behind it',
    texts: [
      `Everything above rests on what is in the journal, which was sealed up to entry ${position} with ${hash}. Keep this page away from the computer: with it anyone can prove later whether an entry before that was changed. ${countText(unsealed, 'entry', 'entries')} had no seal yet.`,
    ],
  };
}

/** `2026-07-14` as `Jul 14, 2026`. */
function dayText(day: string): string {
  const [year = '', month = '', date = ''] = day.split('-');
  return `${MONTHS[Number(month) - 1] ?? month} ${Number(date)}, ${year}`;
}

const MONTHS = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');
