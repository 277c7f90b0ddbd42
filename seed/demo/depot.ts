import { crews, depot } from '../company.ts';
import type { LoadedStaff } from '../load-company.ts';
import type { ApiClient } from './api-client.ts';

/**
 * Writes down where the trucks stand, what everybody who drives out works on, and their hours;
 * unless an earlier demo did.
 */
export async function openTheDepot(
  owner: ApiClient,
  staff: Record<(typeof crews)[number]['key'], LoadedStaff>,
): Promise<void> {
  const policy = await owner.get('/v1/dispatch-policy');
  if (policy.body.base !== null) return;
  for (const { key, base = null, skills, hours } of crews) {
    const path = `/v1/technicians/${staff[key].id}`;
    await owner.patch(path, { base, skills }, '*');
    await owner.post(`${path}/work-weeks`, { validFrom: '2020-01-01', hours });
  }
  await owner.patch('/v1/dispatch-policy', { base: depot }, policy.tag);
}
