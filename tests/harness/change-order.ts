import { issueQuote, type Job, type QuoteAt } from './job.ts';
import { tagged } from './tagged.ts';
import { type Client, expectStatus, type TestService } from './test-service.ts';

type Answer = Awaited<ReturnType<Client['post']>>;

/** Sends a draft that changes an accepted quote; the sender looks at the answer. */
export function sendChange(
  service: TestService,
  job: Pick<Job, 'visitId'>,
  changed: QuoteAt,
  findingIds: string[],
): Promise<Answer> {
  return service.as('technician').post('/v1/quotes', {
    visitId: job.visitId,
    changeOrderOf: changed.body.id,
    options: [{ title: 'And this', findingIds }],
  });
}

/** A draft that changes an accepted quote. */
export async function draftChange(
  service: TestService,
  job: Pick<Job, 'visitId'>,
  changed: QuoteAt,
  findingIds: string[],
): Promise<QuoteAt> {
  return tagged(expectStatus(await sendChange(service, job, changed, findingIds), 201));
}

/** A change order that is with the customer. */
export async function offerChange(
  service: TestService,
  job: Pick<Job, 'visitId'>,
  changed: QuoteAt,
  findingIds: string[],
): Promise<QuoteAt> {
  return issueQuote(service, await draftChange(service, job, changed, findingIds));
}

/** Sends a verb of a quote with its tag; the sender looks at the answer. */
export function sendTo(
  service: TestService,
  quote: QuoteAt,
  verb: string,
  body: object = {},
): Promise<Answer> {
  return service
    .as('technician')
    .post(`/v1/quotes/${quote.body.id}/${verb}`, body, { ifMatch: quote.tag });
}

/** The amounts of the first option by what each line is for, without those of nothing. */
export function amounts({ body }: QuoteAt): Record<string, number> {
  const lines: { kind: string; code: string; amountCents: number }[] = body.options[0].lines;
  return Object.fromEntries(
    lines
      .filter(({ amountCents }) => amountCents !== 0)
      .map(({ kind, code, amountCents }) => [`${kind} ${code}`, amountCents]),
  );
}
