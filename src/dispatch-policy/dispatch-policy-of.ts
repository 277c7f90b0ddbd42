import type { Tx } from '../platform/database/database.ts';
import { type DispatchPolicy, dispatchPolicySchema } from './contract.ts';

/** How days are planned here: as the owner wrote it down, or as is usual. */
export async function dispatchPolicyOf(
  prisma: Pick<Tx, 'dispatchPolicy'>,
): Promise<DispatchPolicy> {
  const row = await prisma.dispatchPolicy.findUnique({ where: { id: 1 } });
  if (row === null) return usualPolicy;
  const { id: _, baseLatitudeDeg, baseLongitudeDeg, ...rest } = row;
  const base =
    baseLatitudeDeg === null || baseLongitudeDeg === null
      ? null
      : { latitudeDeg: baseLatitudeDeg, longitudeDeg: baseLongitudeDeg };
  return dispatchPolicySchema.parse({ ...rest, base });
}

/**
 * What is planned by before the owner says otherwise. Common practice, no source: roads of a town
 * are about 1.3 times the great circle, a truck does 28 miles in an hour of town traffic, a repair
 * call takes an hour and a quarter, and two hours are what people will wait at home for.
 */
export const usualPolicy: DispatchPolicy = {
  roadFactor: 1.3,
  mph: 28,
  parkMinutes: 5,
  usualMinutes: 75,
  windows: [8, 10, 12, 14, 16].map((hour) => ({
    startMinute: hour * 60,
    endMinute: (hour + 2) * 60,
  })),
  base: null,
  version: 1,
};
