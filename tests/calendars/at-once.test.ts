import { afterAll, beforeAll, expect, it } from 'vitest';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService({ withPriceBook: false });
});
afterAll(() => service.close());

it('of many who revoke a calendar at once one does, and it is written down once', async () => {
  const path = `/v1/technicians/${service.staff.technician.id}/calendar-feeds`;
  for (let round = 0; round < 10; round += 1) {
    const { id } = expectStatus(await service.as('technician').post(path), 201).body;
    const revoke = () => service.as('dispatcher').post(`/v1/calendar-feeds/${id}/revoke`);
    const answers = await Promise.all(Array.from({ length: 6 }, revoke));
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409, 409, 409, 409, 409]);
    const written = await service.owner.query(
      `SELECT count(*)::int AS entries FROM journal_entry
       WHERE event = 'calendar_feed.revoked' AND subject_id = $1`,
      [id],
    );
    expect(written.rows[0].entries).toBe(1);
  }
});
