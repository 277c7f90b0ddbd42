import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { offerChange } from '../harness/change-order.ts';
import { findWornContactor } from '../harness/findings.ts';
import type { Job } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { addConsumerRules, cancelForm, offerAtLink, visit } from '../harness/visitor.ts';
import { acceptQuote } from '../harness/work.ts';
import { mailsOf } from './mails-of.ts';
import { linkIn, only, siteWithMail } from './readers.ts';

// A mail that waited while its job ended says so: nobody is asked for an answer that nobody takes.

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await addConsumerRules(service);
});
afterAll(() => service.close());

/** Past the guards: a job is closed only once its quotes are answered or have run out. */
async function end({ ticketId }: Job): Promise<void> {
  const client = await service.owner.connect();
  try {
    await client.query("SET session_replication_role = 'replica'");
    await client.query(`UPDATE ticket SET state = 'cancelled' WHERE id = $1`, [ticketId]);
    await client.query('RESET session_replication_role');
  } finally {
    client.release();
  }
}

describe('a quote whose job ended before its mail went out', () => {
  test.each([
    ['en', 'This job has ended, so there is nothing to answer any more.'],
    ['es', 'Este trabajo terminó, así que ya no hay nada que responder.'],
  ])('goes as a copy that says so, without a link (%s)', async (language, words) => {
    const { job } = await offerAtLink(service, { site: await siteWithMail(service, language) });
    await end(job);
    const mail = only(await mailsOf(service));
    expect(mail.text).toContain(words);
    expect(linkIn(mail)).toBeUndefined();
    expect(mail.text).not.toMatch(/These prices stand|Estos precios valen|If you say no|Si dice/);
  });
});

test('a change of a quote whose yes was taken back meanwhile goes as a copy that says so', async () => {
  const first = await offerAtLink(service, { site: await siteWithMail(service) });
  const accepted = await acceptQuote(service, first.quote);
  await mailsOf(service);
  const contactor = await findWornContactor(service, first.job);
  await offerChange(service, first.job, accepted, [contactor]);
  const reader = await visit(service, first);
  expectStatus(await reader.post(`${first.page}/cancel`, cancelForm(first)), 303);
  const mails = await mailsOf(service);
  const change = only(mails.filter(({ subject }) => subject.startsWith('Change to quote ')));
  expect(change.text).toContain(
    'The quote this would change was cancelled, so there is nothing to answer any more.',
  );
  expect(linkIn(change)).toBeUndefined();
});
