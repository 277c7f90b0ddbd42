/** The joint size of independent errors: the root of the sum of their squares (first principles). */
export function combineInQuadrature(...errors: readonly number[]): number {
  return Math.sqrt(errors.reduce((sum, error) => sum + error * error, 0));
}
