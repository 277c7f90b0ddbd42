/** How many mutants of a room are tried instead of all, and which ones. */
export type Sample = { size: number; seed: string };

const nameInEnvironment = 'MUTANT_SAMPLE';

/** What this process and the ones it starts are to try. */
export function useSample({ size, seed }: Sample): void {
  process.env[nameInEnvironment] = `${size}:${seed}`;
}

export const sampleOfProcess = sampleFrom(process.env[nameInEnvironment]);

function sampleFrom(text: string | undefined): Sample | undefined {
  const [size, seed] = text?.split(':') ?? [];
  return size === undefined || seed === undefined ? undefined : { size: Number(size), seed };
}
