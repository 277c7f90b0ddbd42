import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderReport } from '../../src/documents/index.ts';
import { ProblemError } from '../../src/platform/http/problem.ts';
import { drawToSeal } from '../../src/proof/index.ts';
import { readPageTexts } from '../documents/read-pdf.ts';
import { testPapers } from '../harness/test-papers.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { noForm, offerAtLink, visit, yesForm } from '../harness/visitor.ts';

let isCrowded = false;
let service: TestService;
beforeAll(async () => {
  const press = {
    draw: async (sheet: Parameters<typeof drawToSeal>[0]) => {
      if (isCrowded) throw new ProblemError('unavailable', 'Too many papers are being drawn.');
      return drawToSeal(sheet);
    },
    drawReport: renderReport,
  };
  service = await createTestService({ papers: testPapers({ press }) });
});
afterAll(() => service.close());

describe('the paper of the answer, at the link', () => {
  it.each([
    {
      answer: 'accept',
      form: yesForm,
      en: ['Your yes as a PDF', 'accepted-quote', 'You said yes'],
    },
    { answer: 'decline', form: noForm, en: ['Your no as a PDF', 'declined-quote', 'You said no'] },
  ] as const)('is beside that of the quote once the customer said it: $answer', async (given) => {
    const { answer, form, en } = given;
    const [link, name, title] = en;
    const offer = await offerAtLink(service);
    const visitor = await visit(service, offer);
    const before = await visitor.get(offer.page);
    expect(before.text).not.toContain(`${offer.page}/receipt`);
    expectStatus(await visitor.post(`${offer.page}/${answer}`, form(offer)), 303);
    const page = await visitor.get(offer.page);
    expect(page.text).toContain(`href="${offer.page}/paper?lang=en"`);
    expect(page.text).toContain(`href="${offer.page}/receipt?lang=en"`);
    expect(page.text).toContain(link);
    const paper = expectStatus(await visitor.get(`${offer.page}/receipt`), 200);
    expect(paper.headers['content-type']).toBe('application/pdf');
    expect(paper.headers['content-disposition']).toContain(
      `${name}-${offer.quote.body.number}.pdf`,
    );
    const texts = await readPageTexts(new Uint8Array(paper.body));
    expect(texts.map(({ body }) => body).join(' ')).toContain(title);
  });

  it('is in Spanish for whoever reads Spanish', async () => {
    const offer = await offerAtLink(service);
    const visitor = await visit(service, offer);
    expectStatus(await visitor.post(`${offer.page}/accept`, yesForm(offer)), 303);
    expect((await visitor.get(`${offer.page}?lang=es`)).text).toContain('Su sí en PDF');
    const paper = expectStatus(await visitor.get(`${offer.page}/receipt?lang=es`), 200);
    expect(paper.headers['content-disposition']).toContain('presupuesto-aceptado-');
  });

  it('is the quote’s page for whoever asks for it before there is an answer', async () => {
    const offer = await offerAtLink(service);
    const early = await (await visit(service, offer)).get(`${offer.page}/receipt`);
    expect(expectStatus(early, 303).headers['location']).toBe(offer.page);
  });

  it('is nobody’s who has no link', async () => {
    const offer = await offerAtLink(service);
    expectStatus(await (await visit(service)).get(`${offer.page}/receipt`), 404);
  });

  it('comes a moment later while too many papers are being drawn, and the page says so', async () => {
    const offer = await offerAtLink(service);
    const visitor = await visit(service, offer);
    expectStatus(await visitor.post(`${offer.page}/accept`, yesForm(offer)), 303);
    isCrowded = true;
    const refused = await visitor.get(`${offer.page}/receipt`);
    isCrowded = false;
    expect(expectStatus(refused, 503).headers).toMatchObject({
      'content-type': expect.stringContaining('text/html'),
      'retry-after': '2',
    });
    expectStatus(await visitor.get(`${offer.page}/receipt`), 200);
  });
});
