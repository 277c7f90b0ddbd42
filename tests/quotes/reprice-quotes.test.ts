import { execFile } from 'node:child_process';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type RevisionScope, repriceQuotes } from '../../src/quotes/index.ts';
import { findWornContactor } from '../harness/findings.ts';
import {
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
  yesTo,
} from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

const root = path.resolve(import.meta.dirname, '../..');
const TABLES = ['quote_revision', 'quote_option', 'quote_line', 'quote_issue', 'quote_acceptance'];

let service: TestService;
/** Issued twice and accepted. */
let sold: QuoteAt;
/** Drafted and never issued. */
let draft: QuoteAt;
beforeAll(async () => {
  service = await createTestService();
  const job = await arriveAtJob(service);
  const findings = [await findCapacitor(service, job), await findWornContactor(service, job)];
  const first = await issueQuote(service, await draftQuote(service, job, findings));
  sold = await accept(await issueQuote(service, await revise(first, findings)));
  const other: Job = await arriveAtJob(service);
  draft = await draftQuote(service, other, [await findCapacitor(service, other)]);
  for (const table of TABLES) {
    await service.owner.query(`CREATE TABLE kept_${table} AS TABLE ${table}`);
  }
});
afterEach(async () => {
  for (const table of TABLES) {
    await alter(`DELETE FROM ${table}`);
    await alter(`INSERT INTO ${table} SELECT * FROM kept_${table}`);
  }
});
afterAll(() => service.close());

async function revise({ body, tag }: QuoteAt, findingIds: string[]): Promise<QuoteAt> {
  const options = [
    { title: 'Everything', findingIds },
    { title: 'The capacitor', findingIds: findingIds.slice(0, 1) },
  ];
  const path = `/v1/quotes/${body.id}/revise`;
  const revised = await service.as('technician').post(path, { options }, { ifMatch: tag });
  return { body: expectStatus(revised, 200).body, tag: revised.headers['etag'] ?? '' };
}

async function accept(quote: QuoteAt): Promise<QuoteAt> {
  const path = `/v1/quotes/${quote.body.id}/accept`;
  const answer = await service.as('technician').post(path, yesTo(quote), { ifMatch: quote.tag });
  return { body: expectStatus(answer, 200).body, tag: answer.headers['etag'] ?? '' };
}

async function reprice(scope: RevisionScope = { withDrafts: false }) {
  const told: string[] = [];
  const report = await repriceQuotes(service.db.pool, scope, (difference) => told.push(difference));
  expect(report.differences).toBe(told.length);
  return { ...report, told };
}

describe('a price is the same to the cent years later: computed again from its stored inputs', () => {
  it('every revision that was ever issued comes out as it is stored', async () => {
    const lines = await service.owner.query(
      `SELECT count(*)::int AS count FROM quote_line l JOIN quote_option o ON o.id = l.option_id
       JOIN quote_revision r ON r.id = o.revision_id WHERE r.quote_id = $1`,
      [sold.body.id],
    );
    expect(await reprice()).toEqual({
      quotes: 1,
      revisions: 2,
      options: 3,
      lines: lines.rows[0].count,
      differences: 0,
      told: [],
    });
  });

  it('drafts only when asked for, and one quote alone when asked for', async () => {
    expect(await reprice({ withDrafts: true })).toMatchObject({
      quotes: 2,
      revisions: 3,
      told: [],
    });
    const quoteNumber = draft.body.number;
    expect(await reprice({ withDrafts: true, quoteNumber })).toMatchObject({ revisions: 1 });
    expect(await reprice({ withDrafts: false, quoteNumber })).toMatchObject({ revisions: 0 });
  });

  it('whatever the price book says by now', async () => {
    await alter(`UPDATE price_book_part SET cost_cents = cost_cents + 1`);
    expect((await reprice()).told).toEqual([]);
    await alter(`UPDATE price_book_part SET cost_cents = cost_cents - 1`);
  });
});

const SECOND = `revision_id = (SELECT id FROM quote_revision WHERE number = 2)`;
const OPTION = `(SELECT id FROM quote_option WHERE ${SECOND} AND position = 1)`;
const LABOR = `option_id = ${OPTION} AND kind = 'labor' AND code = 'replace_contactor'`;
const paperSays = (change: string) =>
  `UPDATE quote_issue SET paper = altered.paper,
     content_hash = encode(sha256(convert_to(altered.paper::text, 'UTF8')), 'hex')
   FROM (SELECT quote_id, revision, (${change})::json AS paper FROM quote_issue) altered
   WHERE altered.quote_id = quote_issue.quote_id AND altered.revision = quote_issue.revision
     AND quote_issue.revision = 2`;

/** Alterations of one place on a paper whose hash was made anew. */
function onPaper(
  places: readonly (readonly [what: string, place: string, value: string])[],
): [what: string, sql: string, difference: RegExp][] {
  return places.map(([what, place, value]) => {
    const name = place.slice(1, -1).replaceAll(',', '.');
    return [
      `on the frozen paper ${what}`,
      paperSays(`jsonb_set(paper::jsonb, '${place}', '${value}')`),
      new RegExp(`revision 2: its paper: ${name} was ${value}, now .+$`),
    ];
  });
}

describe('whoever has every right in the database cannot alter a price unseen', () => {
  // The contactor's labor of 35 minutes: line and option are named, with both values.
  const labor = /revision 2: option 1 line \d+ \(labor:[\w-]+:replace_contactor\)/.source;
  const altered: [what: string, sql: string, difference: RegExp][] = [
    [
      'one cent of one line',
      `UPDATE quote_line SET amount_cents = amount_cents + 1 WHERE ${LABOR}`,
      new RegExp(`${labor}: amountCents was (\\d+), now \\d+$`),
    ],
    [
      'one digit within a reason',
      `UPDATE quote_line SET why = replace(why::text, '"value":"35"', '"value":"36"')::json
       WHERE ${LABOR}`,
      new RegExp(`${labor}: why.steps.0.from.0.value was "36", now "35"$`),
    ],
    [
      'a cost within a reason that only the owner sees',
      `UPDATE quote_line SET why = jsonb_set(why::jsonb, '{owner,0,exact}', '"1/1"')::json
       WHERE ${LABOR}`,
      new RegExp(`${labor}: why.owner.0.exact was "1/1", now "`),
    ],
    [
      'a step taken out of a reason',
      `UPDATE quote_line SET why = (why::jsonb #- '{steps,0}')::json WHERE ${LABOR}`,
      new RegExp(`${labor}: why.steps.0 was absent, now {`),
    ],
    [
      'a reason made into nothing',
      `UPDATE quote_line SET why = 'null' WHERE ${LABOR}`,
      new RegExp(`${labor}: why was null, now {`),
    ],
    [
      'one digit of the stored inputs',
      `UPDATE quote_revision SET inputs = replace(inputs::text, '"minutes":35', '"minutes":36')::json
       WHERE number = 2`,
      new RegExp(`${labor}: minutes was 35, now 36$`),
    ],
    [
      'the words of a line',
      `UPDATE quote_line SET description = 'Gift' WHERE ${LABOR}`,
      new RegExp(`${labor}: description was "Gift", now "`),
    ],
    [
      'the findings that carry a line',
      `UPDATE quote_line SET finding_ids = ARRAY[option_id] WHERE ${LABOR}`,
      new RegExp(`${labor}: findingIds.0 was ".*", now "`),
    ],
    [
      'a unit price',
      `UPDATE quote_line SET unit_price_cents = unit_price_cents + 1,
         amount_cents = amount_cents + quantity
       WHERE kind = 'part' AND option_id = ${OPTION}`,
      /option 1 line \d+ \(part:.*\): unitPriceCents was \d+, now \d+$/,
    ],
    [
      'a line taken out',
      `DELETE FROM quote_line WHERE kind = 'tax' AND option_id = ${OPTION}`,
      /revision 2: option 1 line \d+ \(tax\): it is not stored$/,
    ],
    [
      'a line put in',
      `INSERT INTO quote_line (option_id, position, key, kind, price_class, code, description,
         finding_ids, amount_cents, why)
       VALUES (${OPTION}, 99, 'visit_fee_2', 'visit_fee', 'visit_fee', 'visit_fee', 'Fee', '{}', 1,
         '{}')`,
      /option 1 line \d+ \(visit_fee_2\): the rules do not give it$/,
    ],
    [
      'the title of an option',
      `UPDATE quote_option SET title = 'Cheap' WHERE id = ${OPTION}`,
      /revision 2: option 1: title was "Cheap", now "Everything"$/,
    ],
    [
      'the total of an option',
      `UPDATE quote_option SET total_cents = total_cents - 100 WHERE id = ${OPTION}`,
      /revision 2: option 1: totalCents was \d+, now \d+$/,
    ],
    [
      'a whole option',
      `DELETE FROM quote_option WHERE position = 2 AND ${SECOND}`,
      /revision 2: option 2: the rules give it, and it is not stored$/,
    ],
    [
      'the labor rate',
      `UPDATE quote_revision SET labor_rate_cents = 15000 WHERE number = 2`,
      /revision 2: laborRateCents was 15000, now 15097$/,
    ],
    [
      'what a no costs',
      `UPDATE quote_revision SET decline_total_cents = 1 WHERE number = 2`,
      /revision 2: declineTotalCents was 1, now \d+$/,
    ],
    [
      'the version of its rules',
      `UPDATE quote_revision SET ruleset_version = 'pricing-0' WHERE number = 2`,
      /revision 2: there are no rules of version pricing-0$/,
    ],
    [
      'its inputs made unreadable',
      `UPDATE quote_revision SET inputs = (inputs::jsonb - 'rates')::json WHERE number = 2`,
      /revision 2: its stored inputs cannot be read: rates /,
    ],
    [
      'its inputs made into what the rules refuse',
      `UPDATE quote_revision SET inputs = jsonb_set(inputs::jsonb, '{options,0,work}',
         (inputs::jsonb #> '{options,0,work}') || (inputs::jsonb #> '{options,0,work}'))::json
       WHERE number = 2`,
      /revision 2: the rules refuse it: duplicate_finding/,
    ],
    [
      'the total on the frozen paper',
      paperSays(`jsonb_set(paper::jsonb, '{options,0,totalCents}', '1')`),
      /revision 2: its paper: options.0.totalCents was 1, now \d+$/,
    ],
    ...onPaper([
      ['the price of a line', '{options,0,prices,groups,0,lines,0,amountCents}', '1'],
      ['a unit price', '{options,0,prices,groups,1,lines,0,unitPriceCents}', '1'],
      ['a quantity', '{options,0,prices,groups,1,lines,0,quantityText}', '"7"'],
      ['the words of a line', '{options,0,prices,groups,1,lines,1,description}', '"Gift"'],
      ['a reason', '{options,0,prices,groups,1,lines,1,detail}', '"Because."'],
      ['a heading', '{options,0,prices,groups,1,heading}', '"Work"'],
      ['the sum before tax', '{options,0,prices,subtotalCents}', '1'],
      ['the way it is stated', '{options,0,prices,kind}', '"lump_sum"'],
      ['why it is stated so', '{options,0,explanation}', '"So it is."'],
      ['a tax', '{options,0,taxes,0,amountCents}', '1'],
      ['the name of a tax', '{options,0,taxes,0,label}', '"Duty"'],
      ['what a no costs, by line', '{decline,amounts,0,amountCents}', '1'],
      ['what a no costs in all', '{decline,totalCents}', '1'],
    ]),
    [
      'a line taken off the frozen paper',
      paperSays(`paper::jsonb #- '{options,0,prices,groups,1,lines,0}'`),
      /revision 2: its paper: options\.0\.prices\.groups\.1\.lines\.1 was absent, now /,
    ],
    [
      'the paper made unreadable',
      paperSays(`'{}'`),
      /revision 2: the prices of its paper cannot be read$/,
    ],
    [
      'the paper taken away',
      `DELETE FROM quote_issue WHERE revision = 2`,
      /revision 2: it stands as accepted, and its paper is gone$/,
    ],
    [
      'the total that was accepted',
      `UPDATE quote_acceptance SET total_cents = 1`,
      /revision 2: what was accepted, option 1: totalCents was 1, now \d+$/,
    ],
    [
      'the option that was accepted',
      `UPDATE quote_acceptance SET option_id = quote_id`,
      /revision 2: what was accepted is none of its options$/,
    ],
    [
      'the revision itself',
      `DELETE FROM quote_revision WHERE number = 2`,
      /revision 2: it was issued, and what it was priced from is gone$/,
    ],
  ];
  it.each(altered)('%s is found out, by its place', async (_, sql, difference) => {
    expect(await alter(sql), 'something was altered').toBeGreaterThan(0);
    const { revisions, told } = await reprice();
    expect(revisions).toBe(2);
    expect(told).toContainEqual(expect.stringMatching(difference));
    for (const each of told) expect(each).toMatch(/^quote \d+ revision 2: /);
  });
});

describe('the command', () => {
  it('ends with 0 when all is as stored, and with 1 and the place when a cent is not', async () => {
    const whole = await run('--all');
    expect(whole.status).toBe(0);
    expect(whole.stdout).toMatch(
      /^1 quotes, 2 revisions, \d+ lines priced again: all as stored\.\n$/,
    );
    await alter(`UPDATE quote_line SET amount_cents = amount_cents + 1 WHERE ${LABOR}`);
    const { status, stdout } = await run('--quote', String(sold.body.number));
    expect(status).toBe(1);
    expect(stdout).toMatch(/^DIFFERS {2}quote \d+ revision 2: option 1 line \d+ \(labor:/);
    expect(stdout).toContain('NOT all as stored');
  });

  it.each([
    [[], 'Say which: --all, or --quote with its number.'],
    [['--all', '--quote', '7'], 'Say which: --all, or --quote with its number.'],
    [['--quote', '0x'], '--quote must be the number of a quote.'],
    [['--quote', '999999'], 'Of quote 999999 there is nothing to price again.'],
  ])('ends with 2 where there is nothing to say: %j', async (args, says) => {
    expect(await run(...args)).toEqual({ status: 2, stdout: '', stderr: `${says}\n` });
  });
});

/** As somebody who can switch off every guard. */
async function alter(sql: string): Promise<number> {
  const client = await service.owner.connect();
  try {
    await client.query("SET session_replication_role = 'replica'");
    return (await client.query(sql)).rowCount ?? 0;
  } finally {
    await client.query('RESET session_replication_role');
    client.release();
  }
}

function run(...args: string[]): Promise<{ status: number; stdout: string; stderr: string }> {
  const argv = ['--import', 'tsx', path.join(root, 'src/reprice.ts'), ...args];
  const { PATH = '' } = process.env;
  return new Promise((resolve) => {
    const options = { cwd: root, env: { PATH, DATABASE_URL: service.url } };
    execFile(process.execPath, argv, options, (error, stdout, stderr) => {
      resolve({ status: error === null ? 0 : Number(error.code), stdout, stderr });
    });
  });
}
