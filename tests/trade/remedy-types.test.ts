import { expect, test } from 'vitest';
import type { Remedy } from '../../src/trade/index.ts';

// The compiler is the guard here: each line below fails the type check if it ever compiles.
test('a reset relabelled as a repair does not compile, nor a repair relabelled as a reset', () => {
  const relabelled: Remedy[] = [
    // @ts-expect-error: resetting a breaker is a reset, whoever writes it down.
    { task: 'reset_breaker', remedyClass: 'repair', needs: 'supported', partCategories: [] },
    // @ts-expect-error: a new control fuse restores, it repairs nothing.
    { task: 'replace_control_fuse', remedyClass: 'replace', needs: 'proven', partCategories: [] },
    // @ts-expect-error: a new contactor is no reset.
    { task: 'replace_contactor', remedyClass: 'reset', needs: 'proven', partCategories: [] },
  ];
  const honest: Remedy[] = [
    { task: 'reset_breaker', remedyClass: 'reset', needs: 'supported', partCategories: [] },
  ];
  expect([relabelled.length, honest.length]).toEqual([3, 1]);
});
