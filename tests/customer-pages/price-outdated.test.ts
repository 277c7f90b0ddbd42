import { afterAll, beforeAll, expect, it } from 'vitest';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { offerAtLink, visit, yesForm } from '../harness/visitor.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

it('whoever says yes to a price that has fallen since is told that a new quote comes, and nothing is recorded', async () => {
  const offer = await offerAtLink(service);
  const visitor = await visit(service, offer);
  const agreement = {
    planCode: 'two_visits',
    startsOn: '2026-01-01',
    endsOn: '2030-01-01',
    agreedByName: 'Winifred Ashgrove',
  };
  const path = `/v1/sites/${offer.job.siteId}/agreements`;
  expectStatus(await service.as('dispatcher').post(path, agreement), 201);
  const refused = await visitor.post(`${offer.page}/accept`, yesForm(offer));
  expect(expectStatus(refused, 409).text).toContain(
    'The price has to be worked out again. Please call us for a new quote.',
  );
  expect(refused.text).toContain('Nothing was recorded.');
  const quote = await service.as('dispatcher').get(`/v1/quotes/${offer.quote.body.id}`);
  expect(quote.body).toMatchObject({ state: 'issued', acceptance: null });
});
