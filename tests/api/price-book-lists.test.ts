import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { beginDraft, changeDraft, type DraftAt, draftAt, sendList } from '../harness/draft.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const LISTS = ['tasks', 'parts', 'periods', 'tiers', 'agreements', 'replacements'] as const;
const MIB = 1024 * 1024;

let service: TestService;
let draft: DraftAt;
/** The columns of parts, as they are given out. */
let partColumns: string[];
beforeAll(async () => {
  service = await createTestService();
  draft = await beginDraft(service);
  partColumns = Object.keys(rowsOf(await csvOf('parts'))[0] ?? {});
});
beforeEach(async () => {
  draft = await beginDraft(service);
});
afterAll(() => service.close());

const owner = () => service.as('owner');
const contentOf = async () => (await owner().get(`/v1/price-book-drafts/${draft.id}`)).body.content;

async function csvOf(list: string): Promise<string> {
  const answer = await owner().get(`/v1/price-book-drafts/${draft.id}/${list}.csv`);
  return expectStatus(answer, 200).text;
}

/** The cells of a file by the names of its columns, as another reader of CSV has them. */
function rowsOf(csv: string): Record<string, string>[] {
  return parse(csv, { bom: true, columns: true });
}

describe('a list of a price book as a file', () => {
  it.each(LISTS)('of %s, sent back as it came, changes nothing', async (list) => {
    const before = await contentOf();
    draft = draftAt(expectStatus(await sendList(service, draft, list, await csvOf(list)), 200));
    expect(await contentOf()).toEqual(before);
    const preview = await owner().get(`/v1/price-book-drafts/${draft.id}/preview`);
    expect(preview.body.changesNothing).toBe(true);
  });

  it.each(LISTS)('of %s is the same for the book in force, to be saved', async (list) => {
    const { id } = (await owner().get('/v1/price-books/in-force')).body;
    const answer = expectStatus(await owner().get(`/v1/price-books/${id}/${list}.csv`), 200);
    expect(answer.text).toBe(await csvOf(list));
    expect(answer.headers['content-disposition']).toBe(
      `attachment; filename="price-book-${list}.csv"`,
    );
    const etag = answer.headers['etag'] ?? '';
    const again = await owner().get(`/v1/price-books/${id}/${list}.csv`, { 'if-none-match': etag });
    expect(again.status).toBe(304);
  });

  it('shows amounts as dollars, units as on a bill, and each figure of a part in its column', async () => {
    const { parts } = await contentOf();
    const rows = rowsOf(await csvOf('parts'));
    expect(rows).toHaveLength(parts.length);
    const contactor = parts.find(({ fit }: Part) => fit.category === 'contactor');
    expect(rows).toContainEqual(
      expect.objectContaining({
        code: contactor.code,
        cost: (contactor.costCents / 100).toFixed(2),
        category: 'contactor',
        poles: String(contactor.fit.specs.poles),
        amps_max: String(contactor.fit.specs.ampsMax),
        coil_volts: String(contactor.fit.specs.coilVolts),
        herm_uf: '',
        unit: '',
      }),
    );
    const weighed = parts.find(({ measured }: Part) => measured?.unit === '[lb_av]');
    expect(rows).toContainEqual(
      expect.objectContaining({
        code: weighed.code,
        unit: 'lb',
        pack_quantity: weighed.measured.packQuantity,
      }),
    );
  });

  it('shows the hours of the fee schedule by days and times', async () => {
    expect(rowsOf(await csvOf('periods'))).toEqual([
      {
        code: 'regular',
        visit_fee: '89.00',
        labor_factor: '1',
        weekdays: 'mon tue wed thu fri sat',
        from: '08:00',
        to: '18:00',
      },
      {
        code: 'after_hours',
        visit_fee: '129.00',
        labor_factor: '1.5',
        weekdays: '',
        from: '',
        to: '',
      },
    ]);
  });

  it('guards cells that a spreadsheet would run, and reads them back as they were', async () => {
    const part = { ...(await contentOf()).parts[0], name: '=HYPERLINK("evil")', supplier: "'=x" };
    draft = await changeDraft(service, draft, { parts: { put: [part] } });
    const csv = await csvOf('parts');
    const row = rowsOf(csv).find(({ code }) => code === part.code);
    expect(row).toMatchObject({ name: '\'=HYPERLINK("evil")', supplier: "''=x" });
    draft = draftAt(expectStatus(await sendList(service, draft, 'parts', csv), 200));
    expect((await contentOf()).parts).toContainEqual(part);
  });

  it('is nobody’s but the owner’s, and of no other list and no other book', async () => {
    const { id } = (await owner().get('/v1/price-books/in-force')).body;
    const path = `/v1/price-books/${id}/parts.csv`;
    expectProblem(await service.as('technician').get(path), 'forbidden');
    expectProblem(await service.as('nobody').get(path), 'unauthenticated');
    expectProblem(await owner().get(`/v1/price-books/${id}/rates.csv`), 'validation-failed');
    expectProblem(await owner().get(`/v1/price-books/${draft.id}/parts.csv`), 'not-found');
    expectProblem(await owner().get(`/v1/price-book-drafts/${id}/parts.csv`), 'not-found');
  });
});

describe('a file that an owner edited in a spreadsheet', () => {
  it('replaces the list as a whole', async () => {
    const csv =
      'visit_fee,labor_factor,weekdays,from,to,code\n95,1,Mon FRI,8:00,17:30:00,regular\n140.5,1.75,,,,evening\n';
    draft = draftAt(expectStatus(await sendList(service, draft, 'periods', csv), 200));
    expect((await contentOf()).periods).toEqual([
      {
        code: 'regular',
        visitFeeCents: 9_500,
        laborFactor: '1',
        hours: { weekdays: [1, 5], from: '08:00', to: '17:30' },
      },
      { code: 'evening', visitFeeCents: 14_050, laborFactor: '1.75', hours: null },
    ]);
  });

  it('keeps the mode of the tiers, which no row of the file says', async () => {
    const { tiers } = await contentOf();
    const csv = 'up_to,factor\n50,3\n,1.5\n';
    draft = draftAt(expectStatus(await sendList(service, draft, 'tiers', csv), 200));
    expect((await contentOf()).tiers).toEqual({
      mode: tiers.mode,
      steps: [
        { upToCents: 5_000, factor: '3' },
        { upToCents: null, factor: '1.5' },
      ],
    });
  });

  it('is refused with every mistake by line and column, and nothing of it is taken', async () => {
    const before = await contentOf();
    const csv = [
      'code,name,minutes,access_group,access_minutes',
      'replace_contactor,"Replace',
      'the contactor",35,cabinet,10',
      'replace_contactor,Again,35,cabinet,10',
      'no_such_task,Magic,5,cabinet,0',
      'clear_condensate_drain,Clear,half an hour,cabinet,',
      'reset_breaker,Reset,5,Electrical Panel,9999',
      'reset_float_switch,Reset',
    ].join('\r\n');
    const refused = await sendList(service, draft, 'tasks', csv);
    const { mistakes, more } = expectProblem(refused, 'file-has-mistakes').body;
    expect(
      mistakes.map(({ line, column }: { line: number; column: string }) => [line, column]),
    ).toEqual([
      [4, 'code'],
      [5, 'code'],
      [6, 'minutes'],
      [7, 'access_group'],
      [7, 'access_minutes'],
      [8, null],
    ]);
    expect(more).toBe(0);
    expect(mistakes[0].message).toBe('stands on line 2 too');
    expect(mistakes[2].message).toBe('must be a whole number');
    expect(await contentOf()).toEqual(before);
  });

  it.each([
    ['costs with a sign', { cost: '$18.40' }, 'cost', /dollars such as 18\.40/],
    ['costs with thousands', { cost: '1,840.00' }, 'cost', /without commas/],
    ['costs in a third of a cent', { cost: '18.405' }, 'cost', /dollars such as 18\.40/],
    ['costs below nothing', { cost: '-1' }, 'cost', /dollars such as 18\.40/],
    ['costs beyond reason', { cost: '30000000' }, 'cost', /2000000000/],
    ['no cost', { cost: '' }, 'cost', /is missing/],
    ['a formula for a cost', { cost: '=1+1' }, 'cost', /dollars such as 18\.40/],
    ['a figure of another category', { herm_uf: '45' }, 'herm_uf', /must be empty/],
    ['a figure missing', { poles: '' }, 'poles', /is missing/],
    ['a figure in words', { poles: 'two' }, 'poles', /a number such as/],
    ['an unknown category', { category: 'sprocket' }, 'category', /one of run_capacitor/],
    ['an unknown unit', { unit: 'yard', pack_quantity: '3' }, 'unit', /one of lb, oz, ft, in, gal/],
    ['a unit without a pack', { unit: 'ft' }, 'pack_quantity', /is missing/],
    [
      'a rating sold by the foot',
      { unit: 'ft', pack_quantity: '50', warranty_class: 'none' },
      'unit',
      /sold in pieces/,
    ],
    ['an unknown tax class', { tax_class: 'food' }, 'tax_class', /must be one of/],
    ['an unknown warranty', { warranty_class: 'life' }, 'warranty_class', /must be one of/],
    ['a code with a space', { code: 'A 1' }, 'code', /a part code/],
    ['a name with a NUL byte', { name: 'a\0b' }, 'name', /not text/],
  ])('is refused for a part with %s', async (_, change, column, message) => {
    const csv = partFile({ ...contactor, ...change });
    const refused = expectProblem(
      await sendList(service, draft, 'parts', csv),
      'file-has-mistakes',
    );
    expect(refused.body.mistakes).toEqual([
      { line: 2, column, message: expect.stringMatching(message) },
    ]);
  });

  it('is taken with that part when nothing is wrong with it', async () => {
    draft = draftAt(
      expectStatus(await sendList(service, draft, 'parts', partFile(contactor)), 200),
    );
    expect((await contentOf()).parts).toEqual([
      {
        code: 'CON-9',
        name: 'Contactor',
        costCents: 1_840,
        taxClass: 'part',
        warrantyClass: 'unit',
        fit: { category: 'contactor', specs: { poles: 2, ampsMax: 30, coilVolts: 24 } },
      },
    ]);
  });

  it('is refused when each row is right and the list together is not', async () => {
    const csv = 'up_to,factor\n50,1.5\n,3\n';
    const refused = expectProblem(
      await sendList(service, draft, 'tiers', csv),
      'file-has-mistakes',
    );
    expect(refused.body.mistakes).toEqual([
      { line: 1, column: null, message: expect.stringContaining('more would cost more a unit') },
    ]);
  });

  it('is told to use commas when its columns are separated by semicolons', async () => {
    const csv = (await csvOf('tiers')).replaceAll(',', ';');
    const refused = expectProblem(
      await sendList(service, draft, 'tiers', csv),
      'file-has-mistakes',
    );
    expect(refused.body.mistakes[0].message).toContain('Save the file with commas');
  });

  it('is refused when somebody else changed the draft since it was fetched', async () => {
    const csv = await csvOf('tiers');
    await changeDraft(service, draft, { note: 'Meanwhile' });
    expectProblem(await sendList(service, draft, 'tiers', csv), 'version-changed');
  });

  it('goes back with the tag that it came with', async () => {
    const got = await owner().get(`/v1/price-book-drafts/${draft.id}/parts.csv`);
    const tag = got.headers['etag'] ?? '';
    expectStatus(await sendList(service, { ...draft, tag }, 'parts', got.text), 200);
  });
});

describe('a hostile file', () => {
  const header = 'code,name,minutes,access_group,access_minutes\n';
  it.each([
    ['10 MiB of one cell', Buffer.from(`${header}${'x'.repeat(10 * MIB - 100)}`)],
    ['10 MiB of NUL bytes', Buffer.alloc(10 * MIB)],
    ['10 MiB of commas', Buffer.alloc(10 * MIB, ',')],
    ['10 MiB of rows', Buffer.from(header + 'a,b,c,d,e\n'.repeat(MIB - 10))],
    [
      '100,000 rows, far above what a book may have',
      Buffer.from(header + 'a,b,1,d,1\n'.repeat(100_000)),
    ],
    ['an image', Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex')],
    ['UTF-16', Buffer.from(`\ufeff${header}`, 'utf16le')],
  ])('is refused and nothing else: %s', async (_, bytes) => {
    const refused = expectProblem(
      await sendList(service, draft, 'tasks', bytes),
      'file-has-mistakes',
    );
    expect(refused.text.length).toBeLessThan(20_000);
    expect((await contentOf()).tasks.length).toBeGreaterThan(0);
  });

  it('is refused unread above 10 MiB, without a byte, and as something else than CSV', async () => {
    const large = await sendList(service, draft, 'tasks', Buffer.alloc(10 * MIB + 1, 'x'));
    expectProblem(large, 'payload-too-large');
    const path = `/v1/price-book-drafts/${draft.id}/tasks.csv`;
    const headers = { 'if-match': draft.tag };
    expectProblem(
      await owner().send(path, 'text/csv', Buffer.alloc(0), { headers }),
      'validation-failed',
    );
    expectProblem(
      await owner().send(path, 'application/json', Buffer.from('{}'), { headers }),
      'unsupported-media-type',
    );
  });
});

describe('a supplier’s whole catalog', () => {
  it('of fifty thousand parts is taken from a file, previewed and given back', async () => {
    const header = partColumns.join(',');
    const rows = Array.from({ length: 50_000 }, (_, at) =>
      rowOf({ ...contactor, code: `SUPPLIER-${at}`, cost: `${at}.50` }),
    );
    const csv = `${header}\n${rows.join('\n')}\n`;
    draft = draftAt(expectStatus(await sendList(service, draft, 'parts', csv), 200));
    expect(rowsOf(await csvOf('parts'))).toHaveLength(50_000);
    const preview = await owner().get(`/v1/price-book-drafts/${draft.id}/preview`);
    const { changes, moreChanges } = expectStatus(preview, 200).body;
    expect(changes).toHaveLength(1_000);
    expect(moreChanges).toBeGreaterThan(49_000);
  }, 60_000);
});

interface Part {
  fit: { category: string };
  measured?: { unit: string };
}

const contactor: Record<string, string> = {
  code: 'CON-9',
  name: 'Contactor',
  cost: '18.4',
  tax_class: 'part',
  warranty_class: 'unit',
  category: 'contactor',
  poles: '2',
  amps_max: '30',
  coil_volts: '24',
};

function partFile(part: Record<string, string>): string {
  return `${partColumns.join(',')}\n${rowOf(part)}\n`;
}

function rowOf(part: Record<string, string>): string {
  return partColumns.map((name) => `"${(part[name] ?? '').replaceAll('"', '""')}"`).join(',');
}
