import os from 'node:os';
import { type AdviceTrial, trialAdvice } from './advice.ts';
import { type AuditBench, benchAudit } from './audit.ts';
import { auditCompanyLines, benchAuditCompany } from './audit-company.ts';
import { type AuditRunBench, auditRunLines, benchAuditRun } from './audit-run.ts';
import { type BoardBench, benchBoard } from './board.ts';
import { benchEvidence, type EvidenceBench } from './evidence.ts';
import { benchIssue, type IssueBench } from './issue/issue.ts';
import { benchJournal, type JournalBench } from './journal.ts';
import { judgeCompany } from './judge-company.ts';
import { benchLoad, loadLines } from './load/load.ts';
import { benchPapers, type PaperBench } from './paper.ts';
import { benchPlanning, type LargeBench, type PlanningBench } from './planning.ts';
import { benchPrice, type PriceBench } from './price.ts';
import { benchSearch, type SearchBench } from './search.ts';

// Prints what it measures as it goes; the last line is one JSON object with every figure. With the
// word `papers` it measures the papers alone, with `audit` judging jobs, with `planning` the planning
// of days, and with `search`, `board`, `journal` or `wrongs` what only those words measure, because a
// million rows take minutes to make: finding a caller, looking at a full board, verifying a long
// journal, and what the audit finds in a company whose wrongs are known (`wrongs 20000` for fewer
// tickets than 200,000). `audit-company 10000 1000000` audits companies of these sizes end to end;
// `load` lets an office work beside 100,000 customers and 500,000 visits, `load 1000000` for so many
// requests, `load 20000 5000 20000` beside fewer of both.
const papersOnly = process.argv.includes('papers');
const planningOnly = process.argv.includes('planning');
const searchOnly = process.argv.includes('search');
const boardOnly = process.argv.includes('board');
const journalOnly = process.argv.includes('journal');
const auditOnly = process.argv.includes('audit');
const wrongsAt = process.argv.indexOf('wrongs');
const companyAt = process.argv.indexOf('audit-company');
const loadAt = process.argv.indexOf('load');
const machine = {
  node: process.version,
  cpu: os.cpus()[0]?.model.trim() ?? 'unknown',
  cores: os.cpus().length,
  // Of the last minute before the first measurement: how much else ran on the machine.
  loadBefore: os.loadavg()[0] ?? 0,
};
console.log(`${machine.cpu}, ${machine.cores} cores, Node ${machine.node}`);
console.log(`load before: ${machine.loadBefore.toFixed(2)}`);
if (papersOnly) {
  const papers = await papersMeasured();
  console.log(JSON.stringify({ machine, papers }));
} else if (auditOnly) {
  const audit = benchAudit();
  console.log(auditLines(audit));
  console.log(JSON.stringify({ machine, audit }));
} else if (planningOnly) {
  const planning = planningMeasured();
  console.log(JSON.stringify({ machine, planning }));
} else if (searchOnly) {
  const search = await benchSearch();
  for (const each of search) console.log(searchLines(each));
  console.log(JSON.stringify({ machine, search }));
} else if (boardOnly) {
  const board = await benchBoard();
  for (const each of board) console.log(boardLines(each));
  console.log(JSON.stringify({ machine, board }));
} else if (loadAt !== -1) {
  const [soakRequests = 50_000, customers = 100_000, visits = 500_000] = process.argv
    .slice(loadAt + 1)
    .map(Number);
  const size = { customers, visits, soakRequests, perSecond: 200, steadySeconds: 60 };
  const load = await benchLoad(size);
  console.log(loadLines(load));
  console.log(JSON.stringify({ machine, load }));
} else if (journalOnly) {
  const journal = await benchJournal();
  console.log(journalLines(journal));
  console.log(JSON.stringify({ machine, journal }));
} else if (wrongsAt !== -1) {
  const tickets = Number(process.argv[wrongsAt + 1] ?? 200_000);
  const wrongs = await benchAuditCompany(
    { tickets, seed: 1, wrongs: 0.08, turns: 0.2 },
    judgeCompany,
  );
  console.log(auditCompanyLines(wrongs));
  console.log(JSON.stringify({ machine, wrongs }));
} else if (companyAt !== -1) {
  const given = process.argv.slice(companyAt + 1).map(Number);
  const companies: AuditRunBench[] = [];
  for (const tickets of given.length > 0 ? given : [10_000, 100_000]) {
    const company = await benchAuditRun(tickets);
    companies.push(company);
    console.log(auditRunLines(company, companies[0] ?? company));
  }
  console.log(JSON.stringify({ machine, companies }));
} else {
  const price = benchPrice();
  console.log(priceLines(price));
  const audit = benchAudit();
  console.log(auditLines(audit));
  const evidence = benchEvidence();
  console.log(evidenceLines(evidence));
  const advice = trialAdvice();
  console.log(adviceLines(advice));
  const planning = planningMeasured();
  const papers = await papersMeasured();
  const issue = await benchIssue();
  console.log(issueLines(issue));
  console.log(JSON.stringify({ machine, price, audit, evidence, advice, planning, papers, issue }));
}

async function papersMeasured(): Promise<PaperBench[]> {
  const papers = await benchPapers();
  for (const paper of papers) console.log(paperLines(paper));
  return papers;
}

function boardLines(bench: BoardBench): string {
  const { tickets, visits, waiting, statements, buffers, latencyMs, floorMs } = bench;
  return `
The board of a day with ${visits} visits and ${waiting} waiting tickets, ${tickets} past tickets, in process
  ${statements} statements, ${buffers} pages, p50 ${ms(latencyMs.p50)}  p99 ${ms(latencyMs.p99)}
  the same statements alone (floor): p50 ${ms(floorMs.p50)}  p99 ${ms(floorMs.p99)}`;
}

function journalLines(bench: JournalBench): string {
  const { entries, sealSeconds, verifySeconds, floorSeconds, memoryMegabytes, faults } = bench;
  return `
A journal of ${entries} entries held against a tip kept outside: ${faults} faults
  sealed in ${sealSeconds.toFixed(1)} s, verified in ${verifySeconds.toFixed(1)} s with ${memoryMegabytes.toFixed(0)} MB more memory
  the same columns read alone (floor): ${floorSeconds.toFixed(1)} s`;
}

function searchLines({ customers, tickets, buffers, latencyMs, floorMs }: SearchBench): string {
  const lines = Object.entries(latencyMs).map(
    ([what, { p50, p99 }]) => `
  ${what}: ${buffers[what]} pages, p50 ${ms(p50)}  p99 ${ms(p99)}`,
  );
  return `
Finding a caller among ${customers} customers with ${tickets} past tickets, in process${lines.join('')}
  a customer read by identifier (floor): p50 ${ms(floorMs.p50)}  p99 ${ms(floorMs.p99)}`;
}

function priceLines({ priceNs, parseNs, floorNs }: PriceBench): string {
  return `
Price of a six-line quote, in process
  with its derivation    ${us(priceNs)}
  reading its inputs     ${us(parseNs)}
  bare integers (floor)  ${us(floorNs)}`;
}

function auditLines({ jobs, judgeNs, floorNs, jobsPerSecond }: AuditBench): string {
  return `
Judging jobs that nothing is wrong with, ${jobs} everyday ones in turn, one core
  every rule held against it  ${us(judgeNs)}, ${jobsPerSecond} a second, ${(judgeNs / floorNs).toFixed(2)} times the floor
  only its price again        ${us(floorNs)} (floor)`;
}

function evidenceLines(systems: readonly EvidenceBench[]): string {
  const lines = systems.map(
    ({ system, machines, readings, observations, assessMs, verdictsMs, parseMs, floorMs }) => `
  ${system}: ${machines} machine(s), ${readings} readings, ${observations} observations
    to verdicts and next checks  ${ms(assessMs)}, ${(assessMs / floorMs).toFixed(0)} times the floor
    to verdicts alone            ${ms(verdictsMs)}
    read through the schema      ${ms(parseMs)}
    read and written as JSON     ${ms(floorMs)} (floor)`,
  );
  return `\nWeighing a system, in process${lines.join('')}`;
}

function adviceLines(trials: readonly AdviceTrial[]): string {
  const lines = trials.map(
    (trial) => `
  ${trial.list}: ${trial.visits} visits
    causes proven by all that can be recorded: ${trial.provenCauses}, right: ${trial.rightCauses}
    truths that a technician would call proven: ${trial.provable}, proven: ${trial.proven}
    the truth ranks first at the end: ${trial.firstAtEnd}, after five checks advised: ${trial.firstAfterFive}
    mean rank at the end ${trial.meanRankAtEnd.toFixed(2)}
    to the proof, over the ${trial.compared} that every way brings there, without measuring twice:
      as advised       ${course(trial.advice)}
      fixed checklist  ${course(trial.checklist)}
      random order     ${course(trial.randomOrder)}`,
  );
  return `\nRules and advice on invented visits${lines.join('')}`;
}

function course({ checks, minutes }: AdviceTrial['advice']): string {
  return `${checks.toFixed(1)} checks, ${minutes.toFixed(0)} minutes`;
}

function planningMeasured(): PlanningBench {
  const planning = benchPlanning();
  console.log(planningLines(planning));
  return planning;
}

function planningLines({ rounds, small, large, windows }: PlanningBench): string {
  return `
Planning a day, ${rounds} rounds, in process
  ${small.days} days of nine stops against the exact optimum: ${small.servingLess} serve less
    longer on the road by ${percent(small.meanGap)} on average, p95 ${percent(small.p95Gap)}, at worst ${percent(small.worstGap)}
    ${ms(small.meanPlanMs)} a plan, ${ms(small.meanOptimumMs)} the optimum
  a hundred technicians
    as booked             ${largeLine(large.booked)}
    with one of them ill  ${largeLine(large.oneIll)}
  the best of ${windows.offers} windows in five such days  ${ms(windows.ms)}`;
}

function largeLine(bench: LargeBench): string {
  const before =
    bench.presentTravelMinutes === null ? '' : ` instead of ${bench.presentTravelMinutes}`;
  return `${bench.stops} stops, ${bench.promises} promised: ${bench.seconds.toFixed(2)} s; ${bench.travelMinutes} minutes on the road${before}, ${bench.latePromises} promises late, ${bench.leftOut} left out`;
}

function percent(share: number): string {
  return `${(100 * share).toFixed(3)} %`;
}

function paperLines(paper: PaperBench): string {
  const { pages, load, drawnMs, drawnBytes, drawnCpuMs, handedOutMs, handedOutBytes, chromium } =
    paper;
  const theirs =
    chromium === null
      ? '  Chromium was not found; CHROMIUM_PATH names one'
      : `  Chromium ${chromium.version}: p50 ${ms(chromium.ms.p50)}  p99 ${ms(chromium.ms.p99)}  ${chromium.bytes} bytes, ${chromium.pages} pages, tagged
  Chromium takes ${chromium.ratio.toFixed(2)} times as long as drawing at the median, ${chromium.handedOutRatio.toFixed(2)} times as long as handing out`;
  return `
A paper as PDF, ${pages} ${pages === 1 ? 'page' : 'pages'}, another one each time; load ${load.toFixed(2)}
  drawn: p50 ${ms(drawnMs.p50)}  p99 ${ms(drawnMs.p99)}  ${drawnBytes} bytes, ${ms(drawnCpuMs)} of processor time
  handed out (drawn on the press's thread, signed, data inside): p50 ${ms(handedOutMs.p50)}  p99 ${ms(handedOutMs.p99)}  ${handedOutBytes} bytes
${theirs}`;
}

function issueLines(issue: IssueBench): string {
  const { ours, floor, draft, rehearsal } = issue;
  return `
Issue a quote over HTTP, ${issue.connections} connections
  ours   ${rate(ours.requestsPerSecond)}  p50 ${ms(ours.latencyMs.p50)}  p99 ${ms(ours.latencyMs.p99)}
  floor  ${rate(floor.requestsPerSecond)}  p50 ${ms(floor.latencyMs.p50)}  p99 ${ms(floor.latencyMs.p99)}
  ours reaches ${(100 * issue.ratio).toFixed(1)} % of the floor
  one issue alone: ${issue.statementsPerIssue} statements, ${ms(rehearsal.statementsMs)} of its ${ms(rehearsal.requestMs)}
  drafting, ours only: ${rate(draft.requestsPerSecond)}  p50 ${ms(draft.latencyMs.p50)}  p99 ${ms(draft.latencyMs.p99)}
  The floor sends the same statements with the same parameters and the same answer; it leaves out
  checking the request, the rules, prices, paper and hash, the typed client, reading the rows, the log.`;
}

function us(nanoseconds: number): string {
  return `${(nanoseconds / 1_000).toFixed(1)} µs`;
}

function ms(milliseconds: number): string {
  return `${milliseconds.toFixed(1)} ms`;
}

function rate(perSecond: number): string {
  return `${perSecond.toFixed(0)} requests/s`;
}
