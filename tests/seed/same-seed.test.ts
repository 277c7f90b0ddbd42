import { describe, expect, it } from 'vitest';
import { hashBatches } from '../../seed/big-company/batch.ts';
import { bigCompany } from '../../seed/big-company/big-company.ts';
import { randomFor } from '../../seed/big-company/random.ts';

const small = { tickets: 60, seed: 7, journal: true };

describe('an invented company', () => {
  it('is the same to the last row for the same seed, however it is cut into batches', () => {
    expect(hashBatches(bigCompany(small, 11))).toBe(hashBatches(bigCompany(small, 250)));
  });

  it('is another company for another seed', () => {
    const other = { ...small, seed: 8 };
    expect(hashBatches(bigCompany(other))).not.toBe(hashBatches(bigCompany(small)));
  });

  it('has the same business with and without its journal', () => {
    const rowsOf = (journal: boolean) => {
      const rows = { tickets: 0, lines: 0, seals: 0 };
      for (const { lines } of bigCompany({ ...small, journal })) {
        rows.tickets += lines.ticket.length;
        rows.lines += lines.quote_line.length;
        rows.seals += lines.journal_seal.length;
      }
      return rows;
    };
    const withJournal = rowsOf(true);
    expect(withJournal.seals).toBeGreaterThan(small.tickets);
    expect(rowsOf(false)).toEqual({ ...withJournal, seals: 0 });
  });
});

describe('invented chance', () => {
  it('draws differently for every seed, stream and index', () => {
    const firsts = [
      randomFor(1, 'ticket', 5),
      randomFor(2, 'ticket', 5),
      randomFor(1, 'place', 5),
      randomFor(1, 'ticket', 6),
    ].map((random) => random.bits());
    expect(new Set(firsts).size).toBe(4);
  });

  it('spreads evenly: each tenth gets its share within five standard deviations', () => {
    const random = randomFor(3, 'even', 0);
    const draws = 100_000;
    const tenths = new Array<number>(10).fill(0);
    for (let at = 0; at < draws; at += 1) {
      const tenth = random.int(0, 9);
      tenths[tenth] = (tenths[tenth] ?? 0) + 1;
    }
    // First principles: a count of n draws of chance p deviates by sqrt(n p (1 - p)).
    const deviation = Math.sqrt(draws * 0.1 * 0.9);
    for (const count of tenths) expect(Math.abs(count - draws / 10)).toBeLessThan(5 * deviation);
  });
});
