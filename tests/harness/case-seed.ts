const FIXED = 20_261_127;

/**
 * Where random cases start: at the same ones in every run, so that a change is judged by what it
 * changed. `CASE_SEED=new` looks for what nobody has met yet, `CASE_SEED=<number>` brings it back.
 */
export const caseSeed = seedOf(process.env['CASE_SEED']);

function seedOf(asked: string | undefined): number {
  if (asked === undefined) return FIXED;
  return asked === 'new' ? Date.now() % 2 ** 31 : Number(asked);
}
