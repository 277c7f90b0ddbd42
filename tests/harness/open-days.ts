import { expectStatus, type TestService } from './test-service.ts';

/** In the middle of the invented town. */
export const townBase = { latitudeDeg: 41.6, longitudeDeg: -93.6 };

/** So many miles north and east of the base, as the crow flies. */
export function milesOff(
  north: number,
  east: number,
): { latitudeDeg: number; longitudeDeg: number } {
  const mile = 360 / 24_901;
  return {
    latitudeDeg: townBase.latitudeDeg + north * mile,
    longitudeDeg:
      townBase.longitudeDeg + (east * mile) / Math.cos((townBase.latitudeDeg * Math.PI) / 180),
  };
}

/** Gives the company a base and both technicians hours from eight to six on every day. */
export async function openDays(
  service: TestService,
  { startMinute = 8 * 60, endMinute = 18 * 60 }: { startMinute?: number; endMinute?: number } = {},
): Promise<void> {
  const owner = service.as('owner');
  const policy = await owner.get('/v1/dispatch-policy');
  const ifMatch = policy.headers['etag'] ?? '';
  expectStatus(await owner.patch('/v1/dispatch-policy', { base: townBase }, { ifMatch }), 200);
  const hours = [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({ weekday, startMinute, endMinute }));
  for (const who of ['technician', 'second_technician'] as const) {
    const path = `/v1/technicians/${service.staff[who].id}/work-weeks`;
    expectStatus(await owner.post(path, { validFrom: '2026-01-01', hours }), 201);
  }
}
