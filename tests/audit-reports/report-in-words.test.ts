import { describe, expect, it } from 'vitest';
import type { AuditReport } from '../../src/audit-reports/index.ts';
import { plotsOf } from '../../src/audit-reports/plots-of.ts';
import { startSpread } from '../../src/audit-reports/price-spread.ts';
import { reportInWords } from '../../src/audit-reports/report-in-words.ts';
import { reportedRules, startRules } from '../../src/audit-reports/rule-tally.ts';
import { createMeasureText } from '../../src/documents/index.ts';

const nothing: AuditReport = {
  ...{ from: '2025-01-01', to: '2025-12-31', madeAt: '2026-07-02T12:00:00.000Z' },
  ...{ jobs: 0, billedCents: 0, openCents: 0, toLookAt: { jobs: 0, first: [] }, shares: [] },
  ...{ rules: reportedRules(startRules()), patterns: [], amounts: [], readings: [] },
  prices: { jobs: 0, above: 0, putRight: 0, notJudged: 0, aboveCents: 0, works: [], furthest: [] },
  book: { number: 1, tasks: [], parts: [] },
  importedBills: [],
  journal: { position: 1, hash: '0'.repeat(64), unsealed: 0 },
};

const company = {
  name: 'Wren Hollow Comfort',
  address: { street: '1 Mill Street', city: 'Wrenfield', region: 'QX', postalCode: '00000' },
  phone: '(555) 555-0100',
  email: 'office@example.com',
  licenseNumber: 'INVENTED-1',
  regulatorLine: 'Licensed by an invented board',
};

function wordsOf(changes: Partial<AuditReport>) {
  const paper = { company, period: '2025', madeText: 'July 2, 2026', plots: [] };
  return reportInWords({ ...nothing, ...changes }, paper);
}

function sectionOf(changes: Partial<AuditReport>, heading: string) {
  return wordsOf(changes).sections.find((section) => section.heading.startsWith(heading));
}

function toLookAt(rules: string[], openCents: number): Partial<AuditReport> {
  const job = {
    ...{ ticketId: 'ticket', ticketNumber: 1004, endedOn: '2025-07-04', openCents, rules },
    ...{ technicianId: 'somebody', technicianName: 'Tamsin Roake' },
    sentence: 'The tax of quote 12 is $9.94. The rule comes to $9.93.',
  };
  return { jobs: 1, toLookAt: { jobs: 1, first: [job] } };
}

function firstJob(rules: string[], openCents: number) {
  return sectionOf(toLookAt(rules, openCents), 'The first jobs')?.table?.rows[0];
}

describe('the first jobs to open', () => {
  it('say what was found on each, in the words of its first flag', () => {
    expect(firstJob(['tax_wrong', 'above_ceiling'], 1)).toEqual({
      name: 'Ticket 1004, Tamsin Roake',
      detail: 'Tax wrong; Above ceiling. The tax of quote 12 is $9.94. The rule comes to $9.93.',
      cells: ['Jul 4, 2025', '$0.01'],
    });
  });

  it('name nobody where only the tax, the fee or the book is asked about', () => {
    for (const rule of ['tax_wrong', 'differs_from_book', 'fee_charged_twice']) {
      expect(firstJob([rule], 1)?.name).toBe('Ticket 1004');
    }
  });

  it('say where only a look is asked for', () => {
    expect(firstJob(['reset_without_cause'], 0)?.cells).toEqual(['Jul 4, 2025', 'only a look']);
  });
});

describe('what has to hold of every job', () => {
  const rulesIn = (changes: Partial<AuditReport>) =>
    sectionOf({ jobs: 1, ...changes }, 'What has to hold')?.table;

  it('says on how many jobs each rule was judged, nothing too', () => {
    const rules = nothing.rules.map((rule, at) => ({ ...rule, judged: at === 0 ? 1_240 : 0 }));
    const table = rulesIn({ rules });
    expect(table?.columns).toEqual(['Rule', 'Judged']);
    expect(table?.rows.slice(0, 2).map(({ cells }) => cells)).toEqual([['1,240'], ['0']]);
  });

  it('names where a rule comes from, but common practice only once', () => {
    const table = rulesIn({});
    const detailOf = (words: string) =>
      table?.rows.find(({ name }) => name.includes(words))?.detail;
    expect(detailOf('above its computed price')).toBe('The tolerance is the company’s own policy');
    expect(detailOf('charged at its materials only')).toBe('');
  });

  it('is left out where no job ended, and so is the box of figures', () => {
    expect(rulesIn({ jobs: 0 })).toBeUndefined();
    expect(wordsOf({ jobs: 0 }).glance).toBeUndefined();
  });

  it('has a column for what was not judged where there is any', () => {
    const rules = nothing.rules.map((rule, at) => ({
      ...rule,
      ...(at === 0 && { notJudged: 2, missing: ['price_inputs'] }),
    }));
    const table = rulesIn({ rules });
    expect(table?.columns).toEqual(['Rule', 'Judged', 'Not judged']);
    expect(table?.rows[0]).toMatchObject({ detail: 'Not known: price inputs', cells: ['0', '2'] });
    expect(table?.rows[1]?.cells).toEqual(['0', '0']);
  });
});

describe('somebody with clearly less of the good than the others', () => {
  const row = {
    ...{ subject: 'F', name: 'Tamsin Roake', count: 30, trials: 50, comparedCount: 30 },
    ...{ comparedTrials: 50, expectedCount: 45, chance: 1, adjustedChance: 1 },
    ...{ chanceOfFewer: 0.001, adjustedChanceOfFewer: 0.006, shareFrom: 0.46, shareTo: 0.72 },
    ...{ standing: 'fewer_than_others' as const, sentence: 'Please ask what stands in the way.' },
  };
  const words = { happened: 'It was proven', among: 'jobs with work billed' };
  const patternBy = (by: 'technician' | 'month') => [
    { measure: 'proven', by, side: 'praise' as const, ...words, rows: [row] },
  ];

  it('stands where a look is worth it, with the sentence that accuses nobody', () => {
    expect(sectionOf({ patterns: patternBy('technician') }, 'Where a look')?.texts).toEqual([
      'Tamsin Roake. Please ask what stands in the way.',
    ]);
    expect(sectionOf({ patterns: patternBy('technician') }, 'Who does it well')).toBeUndefined();
  });

  it('is no month, which asks nobody anything', () => {
    expect(sectionOf({ patterns: patternBy('month') }, 'Where a look')).toBeUndefined();
  });

  it('is marked in its picture', () => {
    const drawn = plotsOf({
      patterns: patternBy('technician'),
      spread: startSpread(0),
      nameOf: (_, subject) => subject,
    });
    const [plot] = drawn.map(({ draw }) => draw(createMeasureText()));
    expect(drawn[0]?.standsOut).toBe(true);
    expect(plot?.table.rows[0]?.at(-1)).toBe('yes');
  });
});

describe('what was found, rule by rule', () => {
  it('counts a flag that the owner agreed to, be it without money', () => {
    const rules = nothing.rules.map((rule) => ({
      ...rule,
      accepted: rule.code === 'reset_without_cause' ? 1 : 0,
    }));
    const table = sectionOf({ rules }, 'What was found')?.table;
    expect(table?.columns).toEqual([
      ...['Rule', 'Open', 'To give back', 'Agreed', 'Given back', 'Set aside'],
    ]);
    expect(table?.rows).toMatchObject([{ cells: ['0', '', '1', '', '0'] }]);
  });
});

describe('a period without a job of ours', () => {
  it('says that there is nothing to look at, unless bills of it were imported', () => {
    expect(wordsOf({}).lead).toBe('No job ended on these days, so there is nothing to look at.');
    const bills = {
      ...{ origin: 'own' as const, bills: 11, chargedCents: 987_000, flagged: 7 },
      ...{ overCents: 412_300, notPriced: 2, notLookedAt: 1 },
    };
    const report = { importedBills: [bills] };
    expect(wordsOf(report).lead).not.toContain('nothing to look at');
    expect(sectionOf(report, 'Imported bills')?.table?.rows).toEqual([
      {
        name: 'Our own, of another time',
        detail: '1 bill of these is not judged yet: open its import once.',
        cells: ['11', '$9,870.00', '7', '$4,123.00', '2'],
      },
    ]);
  });
});

describe('the box of what is done well', () => {
  const shares = [{ measure: 'read_after_work', side: 'praise' as const, count: 4, trials: 8 }].map(
    (share) => ({ ...share, happened: '', among: '', shareFrom: null, shareTo: null }),
  );

  function figureOf(label: string) {
    const prices = { ...nothing.prices, jobs: 9, putRight: 1, notJudged: 2 };
    const [well] = wordsOf({ jobs: 9, prices, shares }).glance ?? [];
    return well?.rows.find((row) => row.label.startsWith(label));
  }

  it('tells how often readings were taken after the work', () => {
    expect(figureOf('Readings taken after')?.figure).toBe('4 of 8');
  });

  it('counts at a fair price no job that was put right, and none that nobody could judge', () => {
    expect(figureOf('At a fair price')).toEqual({
      label: 'At a fair price (2 jobs not judged)',
      figure: '6 of 7',
    });
  });
});
