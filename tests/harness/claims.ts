import { findWornContactor } from './findings.ts';
import { addSite, arriveAtJob, draftQuote, issueQuote, yesTo } from './job.ts';
import { expectStatus, type TestService } from './test-service.ts';

/** A contactor put in under its maker's warranty. @returns the use of the part */
export async function warrantedPart(service: TestService): Promise<string> {
  const outdoor = { partsWarrantyUntil: '2030-01-01' };
  const job = await arriveAtJob(service, await addSite(service, { outdoor }));
  const findingId = await findWornContactor(service, job);
  const quote = await issueQuote(service, await draftQuote(service, job, [findingId]));
  const technician = service.as('technician');
  const accept = `/v1/quotes/${quote.body.id}/accept`;
  expectStatus(await technician.post(accept, yesTo(quote), { ifMatch: quote.tag }), 200);
  const used = await technician.post(`/v1/visits/${job.visitId}/part-uses`, {
    quoteId: quote.body.id,
    findingId,
    partCode: 'CON-2P-30-24',
    quantity: 1,
    oldPart: 'kept_for_claim',
  });
  return expectStatus(used, 201).body.id;
}
