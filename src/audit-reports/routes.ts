import { z } from 'zod';
import { companyOf, localDayText } from '../company/index.ts';
import { createMeasureText, svgOfPlot } from '../documents/index.ts';
import { paperCompany } from '../invoices/index.ts';
import { notFound } from '../platform/http/problem.ts';
import {
  type BytesContext,
  bytes,
  type ReadContext,
  type Route,
  read,
} from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import { auditReportSchema, periodQuery } from './contract.ts';
import { type AskedPeriod, lookAtPeriod, makeReport } from './make-report.ts';
import { namedPatterns } from './named-patterns.ts';
import { drawnPlots, plotsOf } from './plots-of.ts';
import { reportInWords } from './report-in-words.ts';
import { reportTable } from './report-table.ts';
import { stepByStep } from './step-by-step.ts';

const CSV = 'text/csv; charset=utf-8';
const PDF = 'application/pdf';
const SVG = 'image/svg+xml';
const access = ['owner'] as const;
const tag = 'audit';

export const auditReportRoutes: readonly Route[] = [
  read({
    operationId: 'getAuditReport',
    summary:
      'What the audit found on the jobs that ended on some days, and what many of them share',
    description:
      'A flag asks for a look at a job’s file; it accuses nobody. Who stands out does so beyond what ' +
      'chance explains on the same mix of jobs, adjusted for everybody being looked at. With the end ' +
      'of the sealed journal, which vouches for what the report rests on.',
    tag,
    path: '/v1/audit/report',
    access,
    isReport: true,
    query: z.strictObject(periodQuery),
    response: auditReportSchema,
    problems: ['no-price-book'],
    handle: async (context, { query }) => ({ body: (await makeReport(context, query)).report }),
  }),
  bytes({
    operationId: 'getAuditReportTable',
    summary: 'The report as a CSV file, a row for each figure',
    tag,
    path: '/v1/audit/report/csv',
    access,
    isReport: true,
    query: z.strictObject(periodQuery),
    mediaTypes: [CSV],
    disposition: 'attachment',
    problems: ['no-price-book'],
    handle: async (context, { query }) => {
      const { report } = await makeReport(context, query);
      return fileOf(reportTable(report), CSV, `audit-${report.from}-${report.to}.csv`);
    },
  }),
  bytes({
    operationId: 'getAuditReportPaper',
    summary: 'The report as a PDF to print: what was found, plots with their figures, the journal',
    tag,
    path: '/v1/audit/report/pdf',
    access,
    isReport: true,
    query: z.strictObject(periodQuery),
    mediaTypes: [PDF],
    disposition: 'inline',
    problems: ['no-price-book'],
    handle: async (context, { query }) => {
      const { report, file } = await drawnReport(context, query);
      return fileOf(file, PDF, `audit-${report.from}-${report.to}.pdf`);
    },
  }),
  bytes({
    operationId: 'getAuditPlot',
    summary: 'One plot of the report as a picture, with its title and description in it',
    description:
      'A measure by whom or what, such as `reset-billed-by-technician` or `unproven-by-month`; a ' +
      'funnel of people, a trend of months. `prices-by-work` is what was charged for each kind of ' +
      'work beside what it may come to. Its figures are in the report.',
    tag,
    path: '/v1/audit/plots/:name',
    access,
    isReport: true,
    params: z.strictObject({ name: z.string().max(80) }),
    query: z.strictObject(periodQuery),
    mediaTypes: [SVG],
    disposition: 'inline',
    problems: ['no-price-book'],
    handle: async (context, { params, query }) => {
      const picture = await pictureOf(context, query, params.name);
      return fileOf(Buffer.from(picture), SVG, `${params.name}.svg`);
    },
  }),
];

function fileOf(file: Uint8Array, mediaType: string, fileName: string) {
  return { bytes: file, mediaType, etag: `"${sha256(file)}"`, fileName };
}

/** @throws ProblemError 404 where nothing is drawn by that name */
async function pictureOf(context: ReadContext, asked: AskedPeriod, asks: string): Promise<string> {
  const { seen, nameOf } = await lookAtPeriod(context, asked);
  const patterns = await namedPatterns(seen.tallies, nameOf);
  const plots = plotsOf({ patterns, spread: seen.prices, nameOf });
  const found = plots.find(({ name }) => name === asks);
  if (found === undefined) throw notFound('plot');
  const measure = createMeasureText();
  return svgOfPlot(found.draw(measure), measure);
}

/** Laid out and drawn by the press: the thread that answers others is free meanwhile. */
async function drawnReport(context: BytesContext, asked: AskedPeriod) {
  const { report, period, spread, nameOf } = await makeReport(context, asked);
  const plots = plotsOf({ patterns: report.patterns, spread, nameOf });
  const worthPrinting = plots.filter(({ isWorthPrinting }) => isWorthPrinting);
  const measure = createMeasureText();
  const words = reportInWords(report, {
    company: paperCompany(await companyOf(context.prisma)),
    period: period.words,
    madeText: localDayText(context.now, period.timeZone, 'en'),
    plots: await stepByStep(drawnPlots(worthPrinting, measure)),
  });
  return { report, file: await context.papers.press.drawReport(words) };
}
