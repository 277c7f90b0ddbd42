import type { Mutation } from './mutation.ts';

const oneTrip = 'tests/visits/one-trip.test.ts';
const rebook = 'tests/visits/rebook-visit.test.ts';

/** Mistakes in what one trip is, and whose its fee is. */
export const tripMutations: readonly Mutation[] = [
  {
    breaks: 'a visit that goes on from another of its trip pays the trip twice',
    file: 'src/visits/find-trip.ts',
    find: 'WHERE (v.id = a.id OR v.same_trip_as = a.id) AND',
    replace: 'WHERE v.id = a.id AND',
    caughtBy: { file: oneTrip, name: 'is one trip over midnight' },
    database: true,
  },
  {
    breaks: 'two trips that a plan makes one of keep two fees',
    file: 'src/visits/join-trips.ts',
    find: 'if (pair === undefined) return;',
    replace: 'return;',
    caughtBy: { file: oneTrip, name: 'the later loses its fee and rests on that of the other' },
    database: true,
  },
  {
    breaks: 'the earlier visit of a trip loses its fee to the later',
    file: 'src/visits/join-trips.ts',
    find: 'return other.mayLose && other.plannedStart > visit.plannedStart',
    replace: 'return other.mayLose && other.plannedStart < visit.plannedStart',
    caughtBy: { file: oneTrip, name: 'the later loses its fee and rests on that of the other' },
    database: true,
  },
  {
    breaks: 'whoever rests on a fee that is given away is left with a fee of nobody',
    file: 'src/visits/book-with-another.ts',
    find: 'if (withFee?.sameTripAs === null) return termsOfTrip(visit, withFee.id);',
    replace:
      'if (withFee?.sameTripAs === null) return { ...termsOfTrip(visit, withFee.id), sameTripAs: null };',
    caughtBy: { file: rebook, name: 'takes all that is booked on its trip along' },
    database: true,
  },
  {
    breaks: 'a visit that was moved out is refused at the door for what happened at another',
    file: 'src/visits/refuse-trip-without-fee.ts',
    find: "visit.state === 'booked' ? await coveringVisitId(tx, visit.id) : null",
    replace: 'await coveringVisitId(tx, visit.id)',
    caughtBy: { file: rebook, name: 'is made without a fee once somebody has set out' },
    database: true,
  },
];
