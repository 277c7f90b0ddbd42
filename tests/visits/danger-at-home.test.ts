import { describe, expect, it } from 'vitest';
import { addSite, bookJob, freeWindow, type Job, type Site } from '../harness/job.ts';
import {
  endDanger,
  phoneService,
  sendAnswer,
  smellGas,
  startChecks,
  takeCall,
} from '../harness/phone-checks.ts';
import { expectProblem, expectStatus } from '../harness/test-service.ts';

const service = await phoneService();

/** A call at a home whose phone checks stop because gas is smelled. */
async function gasSmelledAt(site: Site): Promise<string> {
  const { ticketId } = await takeCall(service, { site });
  await startChecks(service, ticketId);
  await smellGas(service, ticketId);
  return ticketId;
}

async function cancel(ticketId: string): Promise<void> {
  const path = `/v1/tickets/${ticketId}`;
  const ifMatch = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
  const why = { reason: 'The gas company sees to it.' };
  expectStatus(await service.as('dispatcher').post(`${path}/cancel`, why, { ifMatch }), 200);
}

const setOut = ({ visitId, visitTag }: Job) =>
  service.as('technician').post(`/v1/visits/${visitId}/start-travel`, {}, { ifMatch: visitTag });

const otherWindow = ({ visitId, visitTag }: Job) =>
  service.as('dispatcher').post(
    `/v1/visits/${visitId}/rebook`,
    {
      ...freeWindow(),
      ...{ askedBy: 'customer', reason: 'Later is better.', windowAgreedBy: 'Winifred Ashgrove' },
      feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
    },
    { ifMatch: visitTag },
  );

describe('a danger told on another ticket of the home', () => {
  it('keeps everybody from it until somebody records that it is over', async () => {
    const site = await addSite(service);
    const job = await bookJob(service, site, freeWindow());
    const ticketId = await gasSmelledAt(site);
    const { ticketId: third } = await takeCall(service, { site });
    const book = () =>
      service.as('dispatcher').post('/v1/visits', {
        ticketId: third,
        technicianId: service.staff.technician.id,
        ...freeWindow(),
        feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
      });
    for (const answer of [await setOut(job), await book(), await otherWindow(job)]) {
      const { body } = expectProblem(expectStatus(answer, 409), 'not-allowed-now');
      expect(body).toMatchObject({ danger: 'gas', dangerTicketId: ticketId });
      expect(body.detail).toMatch(
        /^Danger was told of this home on ticket \d+\. First record there how you know that it is over\.$/,
      );
      expect(body.allowedActions).not.toContain('record_danger_over');
    }
    await endDanger(service, ticketId);
    expectStatus(await book(), 201);
    expectStatus(await setOut(job), 200);
  });

  it('keeps nobody from it once that ticket has ended, as nobody can record it there', async () => {
    const site = await addSite(service);
    const job = await bookJob(service, site, freeWindow());
    const ticketId = await gasSmelledAt(site);
    expectStatus(await setOut(job), 409);
    await cancel(ticketId);
    expectStatus(await setOut(job), 200);
  });

  it('keeps nobody from another home', async () => {
    const job = await bookJob(service, undefined, freeWindow());
    await gasSmelledAt(await addSite(service));
    expectStatus(await setOut(job), 200);
  });

  it('does not keep the other call from being heard', async () => {
    const site = await addSite(service);
    await gasSmelledAt(site);
    const { ticketId } = await takeCall(service, { site });
    await startChecks(service, ticketId);
    expectStatus(await sendAnswer(service, ticketId, ['gas_smell', 'no']), 200);
  });
});
