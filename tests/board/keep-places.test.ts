import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keepPlaces, type Place } from '../../src/board/keep-places.ts';

const bounds = { followersMax: 6, followersOfOneMax: 2, officePlaces: 2 };
const nobody = () => undefined;
const technician = (id: string) => ({ id, role: 'technician' as const });
const dispatcher = (id: string) => ({ id, role: 'dispatcher' as const });

describe('the places of one process', () => {
  it('go to whoever comes until all are taken, and again when one leaves', () => {
    const places = keepPlaces(bounds);
    const taken = ['a', 'b', 'c', 'd', 'e', 'f'].map((id) => places.take(dispatcher(id), nobody));
    expect(taken).not.toContain(undefined);
    expect(places.take(dispatcher('g'), nobody)).toBeUndefined();
    taken[0]?.leave();
    taken[0]?.leave();
    expect(places.take(dispatcher('g'), nobody)).toBeDefined();
    expect(places.take(dispatcher('h'), nobody)).toBeUndefined();
  });

  it('are kept for the office in part, however many technicians follow', () => {
    const places = keepPlaces(bounds);
    for (const id of ['a', 'b', 'c', 'd'])
      expect(places.take(technician(id), nobody)).toBeDefined();
    expect(places.take(technician('e'), nobody)).toBeUndefined();
    expect(places.take(dispatcher('f'), nobody)).toBeDefined();
    expect(places.take({ id: 'g', role: 'owner' }, nobody)).toBeDefined();
    expect(places.take(dispatcher('h'), nobody)).toBeUndefined();
  });

  it('of one person are so many: the newest takes that of the oldest, also where it is full', () => {
    const places = keepPlaces({ ...bounds, followersMax: 4 });
    const given: string[] = [];
    for (const name of ['first', 'second', 'third', 'fourth']) {
      expect(places.take(technician('a'), () => given.push(name))).toBeDefined();
    }
    expect(given).toEqual(['first', 'second']);
    expect(places.take(technician('b'), nobody)).toBeUndefined();
    expect(places.take(dispatcher('c'), nobody)).toBeDefined();
  });

  it('are never more than there are, of nobody too many, and of technicians never those of the office', () => {
    const everybody = [...['a', 'b', 'c', 'd'].map(technician), ...['e', 'f', 'g'].map(dispatcher)];
    const step = fc.record({ who: fc.nat({ max: everybody.length - 1 }), leaves: fc.boolean() });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
        const places = keepPlaces(bounds);
        let held: { id: string; role: string; place: Place; at: number }[] = [];
        steps.forEach(({ who, leaves }, at) => {
          const actor = everybody[who] ?? dispatcher('e');
          const own = held.filter(({ id }) => id === actor.id);
          if (leaves) {
            own.at(-1)?.place.leave();
            held = held.filter((each) => each !== own.at(-1));
            return;
          }
          const before = held.length;
          const technicians = held.filter(({ role }) => role === 'technician').length;
          const place = places.take(actor, () => {
            held = held.filter((each) => each.at !== at);
          });
          const isRoom =
            own.length === bounds.followersOfOneMax ||
            (before < bounds.followersMax &&
              (actor.role !== 'technician' ||
                technicians < bounds.followersMax - bounds.officePlaces));
          expect(place !== undefined).toBe(isRoom);
          if (place !== undefined) held.push({ ...actor, place, at });
          expect(held.length).toBeLessThanOrEqual(bounds.followersMax);
          expect(held.filter(({ id }) => id === actor.id).length).toBeLessThanOrEqual(
            bounds.followersOfOneMax,
          );
        });
      }),
    );
  });
});
