import type { Dialogue } from './next-step.ts';

/** Whether a dialogue asks for a reset now, or has asked for one that is on its way still. */
export function isAtReset({ path, step }: Dialogue): boolean {
  const asked = step.kind === 'ask' ? [step.question] : [];
  return [...path.map(({ question }) => question), ...asked].some(
    ({ resetsBreaker }) => resetsBreaker === true,
  );
}
