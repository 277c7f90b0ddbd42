/** A change after which nothing can differ, so that no test can notice it. */
export type EqualMutant = {
  /** Below src/. */
  file: string;
  text: string;
  becomes: string;
  why: string;
};

export const equalMutants: readonly EqualMutant[] = [
  {
    file: 'pricing/adjust-charges.ts',
    text: 'here.length === 0',
    becomes: 'false',
    why: 'A short way: a charge with nothing aimed at it is what was computed, which its band always holds, and gets no lines.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    text: '(byOthers[0] ?? aimed[0])?.pointer',
    becomes: '(byOthers[0] ?? aimed[0]).pointer',
    why: 'Only a charge with something aimed at it is ever refused, which types cannot tell.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    text: 'compare(charge.floor, price) < 0',
    becomes: 'compare(charge.floor, price) <= 0',
    why: 'Where both are equal it is the same floor, whichever is taken.',
  },
];
