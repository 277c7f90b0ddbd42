import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { storableChanges, type VisitChange } from '../../src/day-plans/storable-changes.ts';
import type { BookedVisit } from '../../src/workdays/index.ts';

const at = (minute: number) => new Date(Date.UTC(2026, 6, 20) + minute * 60_000);

function visit(id: string, technicianId: string, from: number, to: number): BookedVisit {
  return {
    ...{ id, technicianId, version: 1, ticketId: id, siteId: id, state: 'booked' },
    ...{ windowStart: at(0), windowEnd: at(1_440), plannedStart: at(from), plannedEnd: at(to) },
    ...{ arrivedAt: null, since: null, tripId: null },
  };
}

function change(of: BookedVisit, technicianId: string, from: number, to: number): VisitChange {
  return { visit: of, technicianId, plannedStart: at(from), plannedEnd: at(to) };
}

/** Nobody is planned at two places. */
function standsTogether(visits: readonly BookedVisit[], changes: readonly VisitChange[]): boolean {
  const changed = new Map(changes.map((each) => [each.visit.id, each]));
  const works = visits.map((each) => changed.get(each.id) ?? each);
  return works.every((one, index) =>
    works
      .slice(index + 1)
      .every(
        (other) =>
          one.technicianId !== other.technicianId ||
          one.plannedEnd <= other.plannedStart ||
          other.plannedEnd <= one.plannedStart,
      ),
  );
}

describe('of a plan what can stand together on the board', () => {
  const [a, b] = [visit('a', 'one', 0, 60), visit('b', 'one', 60, 120)];

  it('is all of it where two change places', () => {
    const swap = [change(a, 'one', 60, 120), change(b, 'one', 0, 60)];
    expect(storableChanges([a, b], swap)).toEqual(swap);
  });

  it('is no shift onto work that stays where it was', () => {
    expect(storableChanges([a, b], [change(b, 'one', 30, 90)])).toEqual([]);
  });

  it('is nobody who comes to where there is no room, and what they left stays theirs', () => {
    const c = visit('c', 'two', 0, 60);
    expect(storableChanges([a, b, c], [change(c, 'one', 90, 150)])).toEqual([]);
    const fits = [change(c, 'one', 120, 180)];
    expect(storableChanges([a, b, c], fits)).toEqual(fits);
  });

  it('never overlaps, whatever the plan said', () => {
    const technician = fc.constantFrom('one', 'two', 'three');
    const slots = fc.uniqueArray(fc.nat(20), { minLength: 1, maxLength: 12 });
    const day = slots.chain((starts) =>
      fc.tuple(
        ...starts.map((start) =>
          fc.tuple(technician, technician, fc.nat(1_200), fc.boolean(), fc.constant(start)),
        ),
      ),
    );
    fc.assert(
      fc.property(day, (works) => {
        const visits = works.map(([who, , , , slot]) =>
          visit(`${slot}`, who, slot * 60, slot * 60 + 60),
        );
        const changes = works.flatMap(([, to, start, isChanged], index) => {
          const own = visits[index];
          return isChanged && own ? [change(own, to, start, start + 60)] : [];
        });
        const stored = storableChanges(visits, changes);
        expect(standsTogether(visits, stored)).toBe(true);
        if (standsTogether(visits, changes)) expect(stored).toEqual(changes);
      }),
    );
  });
});
