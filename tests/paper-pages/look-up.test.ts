import { randomBytes } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createLog } from '../../src/platform/log.ts';
import { offerChange, sendTo } from '../harness/change-order.ts';
import { findPluggedDrain, findWornContactor } from '../harness/findings.ts';
import { atTime } from '../harness/fixed-clock.ts';
import { issueInvoice, move } from '../harness/invoice.ts';
import { addSite, arriveAtJob, findCapacitor, issueQuote, type Job } from '../harness/job.ts';
import { rowsOfAll } from '../harness/rows-of-all.ts';
import { tagged } from '../harness/tagged.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { addConsumerRules, offerAtLink } from '../harness/visitor.ts';
import { acceptOnly, closeTicket, declineAll, doAll, offer } from '../harness/whole-job.ts';
import { reader, textOf } from './reader.ts';

const lines: string[] = [];
let service: TestService;
beforeAll(async () => {
  const log = createLog('trace', { write: (line) => void lines.push(line) });
  service = await createTestService({ log });
  await addConsumerRules(service);
});
afterAll(() => service.close());

/** A job whose site and customer have words of their own, which no page may repeat. */
async function openQuote() {
  const job = await arriveAtJob(service, await addSite(service));
  const findingId = await findCapacitor(service, job);
  const quote = await offer(service, job, [findingId]);
  return { job, findingId, quote, hash: hashOf(quote) };
}

function hashOf({ body }: { body: { contentHash: string } }): string {
  return body.contentHash;
}

const cancelled = { cancelledByName: 'Winifred Ashgrove', noticeText: 'I cancel this.' };
const AFTER_VALIDITY = '2026-08-15T12:00:00Z';

interface Story {
  hash: string;
  number: number;
  at?: string;
}

/** Each state a quote can be found in, told by whoever brings it there, and what its page says. */
const states: Record<string, { bring: () => Promise<Story>; says: [en: string, es: string] }> = {
  open: {
    bring: async () => storyOf(await openQuote()),
    says: [
      'Waits for an answer. It can be accepted until the end of August 13, 2026.',
      'Espera una respuesta. Se puede aceptar hasta el 13 de agosto de 2026 inclusive.',
    ],
  },
  expired: {
    bring: async () => ({ ...storyOf(await openQuote()), at: AFTER_VALIDITY }),
    says: [
      'Run out. It could be accepted until the end of August 13, 2026. Call 555-0100 for a new quote.',
      'Vencido. Se podía aceptar hasta el 13 de agosto de 2026 inclusive. Llame al 555-0100 para recibir un presupuesto nuevo.',
    ],
  },
  accepted: {
    bring: async () => {
      const open = await openQuote();
      await acceptOnly(service, open.quote);
      return storyOf(open);
    },
    says: [
      'Accepted. It was accepted on July 14, 2026, for $204.90.',
      'Aceptado. Se aceptó el 14 de julio de 2026, por $204.90.',
    ],
  },
  cancelled: {
    bring: async () => {
      const open = await openQuote();
      const yes = await acceptOnly(service, open.quote);
      await atTime(service.clock, '2026-07-16T18:00:00Z', async () => {
        expectStatus(await sendTo(service, yes, 'cancel-acceptance', cancelled), 200);
      });
      return storyOf(open);
    },
    says: [
      'Cancelled. It was accepted on July 14, 2026, and that was cancelled on July 16, 2026. No work is agreed under it.',
      'Cancelado. Se aceptó el 14 de julio de 2026 y eso se canceló el 16 de julio de 2026. No hay ningún trabajo acordado con él.',
    ],
  },
  declined: {
    bring: async () => {
      const open = await openQuote();
      await declineAll(service, open.quote);
      return storyOf(open);
    },
    says: [
      'Declined. It was declined on July 14, 2026. No work is agreed under it.',
      'Rechazado. Se rechazó el 14 de julio de 2026. No hay ningún trabajo acordado con él.',
    ],
  },
  withdrawn: {
    bring: async () => {
      const open = await openQuote();
      expectStatus(await sendTo(service, open.quote, 'withdraw'), 200);
      return storyOf(open);
    },
    says: [
      'Withdrawn. We took it back on July 14, 2026, and it cannot be accepted. Call 555-0100 to hear why.',
      'Retirado. Lo retiramos el 14 de julio de 2026 y no se puede aceptar. Llame al 555-0100 para saber por qué.',
    ],
  },
  replaced: {
    bring: async () => {
      const open = await openQuote();
      await revise(open);
      return storyOf(open);
    },
    says: [
      'Replaced. Revision 2 of this quote, issued July 14, 2026, took its place, and this one cannot be accepted. Call 555-0100 if you have not received it.',
      'Reemplazado. La revisión 2 de este presupuesto, emitida el 14 de julio de 2026, ocupa su lugar, y este ya no se puede aceptar. Llame al 555-0100 si no la recibió.',
    ],
  },
  'left open when the job ended': {
    bring: async () => {
      const open = await openQuote();
      // Nobody closes a job over a quote that waits, but one that ran out holds nothing up.
      await atTime(service.clock, AFTER_VALIDITY, () => closeTicket(service, open.job));
      return storyOf(open);
    },
    says: [
      'Closed. The job was over before anybody accepted it, and it cannot be accepted now. Call 555-0100 if you want the work.',
      'Cerrado. El servicio terminó antes de que alguien lo aceptara, y ya no se puede aceptar. Llame al 555-0100 si quiere el trabajo.',
    ],
  },
  'a change whose quote was cancelled': {
    bring: async () => {
      const { yes, change } = await changeOrder();
      expectStatus(await sendTo(service, yes, 'cancel-acceptance', cancelled), 200);
      return storyOf(change);
    },
    says: [
      'Closed. Quote PARENT, to which it would add, was cancelled, so it cannot be accepted. Call 555-0100 if you want the work.',
      'Cerrado. El presupuesto PARENT, al que se agregaría, se canceló; por eso este no se puede aceptar. Llame al 555-0100 si quiere el trabajo.',
    ],
  },
  'a change that was agreed and fell with its quote': {
    bring: async () => {
      const { yes, change } = await changeOrder();
      await acceptOnly(service, change.quote);
      expectStatus(await sendTo(service, yes, 'cancel-acceptance', cancelled), 200);
      return storyOf(change);
    },
    says: [
      'Cancelled. It was accepted on July 14, 2026, and that was cancelled on July 14, 2026. No work is agreed under it.',
      'Cancelado. Se aceptó el 14 de julio de 2026 y eso se canceló el 14 de julio de 2026. No hay ningún trabajo acordado con él.',
    ],
  },
};

let parentNumber = '';

async function changeOrder() {
  const open = await openQuote();
  const yes = await acceptOnly(service, open.quote);
  parentNumber = String(yes.body.number);
  const contactor = await findWornContactor(service, open.job);
  const quote = await offerChange(service, open.job, yes, [contactor]);
  return { yes, change: { quote, hash: hashOf(quote) } };
}

async function revise({ quote, job }: Awaited<ReturnType<typeof openQuote>>) {
  const drain = await findPluggedDrain(service, job);
  const options = [{ title: 'Only the drain', findingIds: [drain] }];
  const revised = await sendTo(service, quote, 'revise', { options });
  return issueQuote(service, tagged(expectStatus(revised, 200)));
}

function storyOf({ hash, quote }: { hash: string; quote: { body: { number: number } } }): Story {
  return { hash, number: quote.body.number };
}

const told = new Map<string, Story>();
const storyOfState = async (state: string): Promise<Story> => {
  const known = told.get(state) ?? (await states[state]?.bring());
  if (known === undefined) throw new Error(`nobody brings a quote to ${state}`);
  told.set(state, known);
  return known;
};

function pageOf({ hash, at }: Story, lang: 'en' | 'es' = 'en') {
  const look = () => reader(service).get(`/paper/${hash}?lang=${lang}`);
  return at === undefined ? look() : atTime(service.clock, at, look);
}

describe('the page of a quote says what it is and where it stands', () => {
  it.each(Object.entries(states))('%s', async (state, { says }) => {
    const story = await storyOfState(state);
    for (const [at, lang] of (['en', 'es'] as const).entries()) {
      const page = expectStatus(await pageOf(story, lang), 200);
      const text = textOf(page);
      expect(text).toContain(says[at]?.replace('PARENT', parentNumber));
      const name = { en: 'Quote', es: 'Presupuesto' }[lang];
      const revision = { en: 'revision', es: 'revisión' }[lang];
      expect(text).toContain(`${name} ${story.number}, ${revision} 1`);
      expect(text).toContain(
        { en: 'Issued July 14, 2026', es: 'Emitido 14 de julio de 2026' }[lang],
      );
      expect(text).toMatch(/Total \$\d+\.\d\d/);
      expect(page.text).toContain('href="tel:5550100"');
      expect(page.text).toContain(`href="/verify?lang=${lang}"`);
    }
  });

  it.each(Object.keys(states))(
    'and has the button for the link only while it waits for an answer: %s',
    async (state) => {
      const story = await storyOfState(state);
      const { text } = await pageOf(story);
      expect(text.includes(`action="/paper/${story.hash}/link"`)).toBe(state === 'open');
    },
  );

  it('each option by its letter, with its total', async () => {
    const { quote } = await offerAtLink(service);
    const text = textOf(await pageOf(storyOf({ quote, hash: hashOf(quote) })));
    expect(text).toContain('Option A $290.45 Option B $204.90');
  });

  it('and the option that was agreed to', async () => {
    const { quote } = await offerAtLink(service);
    const [, second] = quote.body.options;
    const yes = {
      optionId: second.id,
      acceptedByName: 'Winifred Ashgrove',
      consentText: 'I accept this option at this total.',
      shownTotalCents: second.totalCents,
      shownContentHash: hashOf(quote),
    };
    expectStatus(await sendTo(service, quote, 'accept', yes), 200);
    const text = textOf(await pageOf(storyOf({ quote, hash: hashOf(quote) })));
    expect(text).toContain('Option B was accepted on July 14, 2026, for $204.90.');
  });

  it('and of a change what it adds to', async () => {
    const { change } = await changeOrder();
    const text = textOf(await pageOf(storyOf(change)));
    expect(text).toContain(`Adds to Quote ${parentNumber}`);
    expect(text).toContain('Waits for an answer.');
  });

  it('the newer revision has a page of its own, which waits', async () => {
    const open = await openQuote();
    const newer = await revise(open);
    const text = textOf(await pageOf(storyOf({ quote: newer, hash: hashOf(newer) })));
    expect(text).toContain(`Quote ${newer.body.number}, revision 2 Waits for an answer.`);
    expect(textOf(await pageOf(storyOf(open)))).toContain('Replaced.');
  });
});

describe('every other paper has its page', () => {
  let hashes: Record<'answered' | 'refused' | 'invoice' | 'memo' | 'record', string>;
  let numbers: Record<'answered' | 'refused' | 'invoice' | 'memo' | 'ticket', number>;
  beforeAll(async () => {
    ({ hashes, numbers } = await wholeTicket());
  });

  it('the yes stands beside the quote it answers, for they share a fingerprint', async () => {
    const page = await pageOf({ hash: hashes.answered, number: 0 });
    const text = textOf(page);
    expect(text).toContain('We issued these papers');
    expect(text).toContain(`Quote ${numbers.answered}, revision 1 Accepted.`);
    expect(text).toContain(
      `Acceptance of quote ${numbers.answered} Agreed. Work for $204.90 was agreed. Accepted July 14, 2026 Total $204.90`,
    );
  });

  it('so does the no', async () => {
    const text = textOf(await pageOf({ hash: hashes.refused, number: 0 }));
    expect(text).toContain(
      `Paper on the declined quote ${numbers.refused} Declined. No work is agreed under this quote. Declined July 14, 2026`,
    );
  });

  it('an invoice with its total, and nothing of what was paid', async () => {
    const text = textOf(await pageOf({ hash: hashes.invoice, number: 0 }));
    expect(text).toContain(
      `Invoice ${numbers.invoice} Issued. What has been paid or credited since is not shown here. Call 555-0100 to ask what is owed. Issued July 14, 2026 Total $204.90`,
    );
    expect(text).not.toMatch(/Credit memo|\$5\.41|balance/);
  });

  it('a credit memo with its total', async () => {
    const text = textOf(await pageOf({ hash: hashes.memo, number: 0 }));
    expect(text).toContain(`Credit memo ${numbers.memo} Issued.`);
    expect(text).toMatch(/Issued July 14, 2026 Total \$5\.\d\d/);
  });

  it('the record of the work', async () => {
    const text = textOf(await pageOf({ hash: hashes.record, number: 0 }));
    expect(text).toContain(
      `Record of job ${numbers.ticket} Issued. It tells what was done and how it was left. Issued July 14, 2026`,
    );
  });

  it('none of them names a person, an address, a phone of a customer or a word that anybody typed', async () => {
    const private_ = await wordsOfCustomers();
    expect(private_).toContain('Winifred Ashgrove');
    expect(private_).toContain('3 Thistle Court');
    const stories = [
      ...told.values(),
      ...Object.values(hashes).map((hash) => ({ hash, number: 0 })),
    ];
    expect(stories.length).toBeGreaterThan(10);
    for (const story of stories) {
      for (const lang of ['en', 'es'] as const) {
        const { text } = await pageOf(story, lang);
        for (const word of private_) expect(text).not.toContain(word);
        expect(text).not.toMatch(/\/q\/|token/);
      }
    }
  });
});

/** Everything on file of people and places, and what was typed by hand. */
async function wordsOfCustomers(): Promise<string[]> {
  const { rows } = await service.owner.query<{ word: string }>(
    `SELECT DISTINCT word FROM (
       SELECT unnest(ARRAY[name, phone, email]) AS word FROM customer
       UNION ALL SELECT unnest(ARRAY[street, city, postal_code]) FROM site
       UNION ALL SELECT name FROM staff
       UNION ALL SELECT title FROM quote_option
       UNION ALL SELECT complaint FROM ticket
       UNION ALL SELECT consent_text FROM quote_acceptance
       UNION ALL SELECT condition_left FROM ticket_closing
       UNION ALL SELECT reason FROM credit_memo) all_of_it
     WHERE length(word) > 2`,
  );
  return rows.map(({ word }) => word);
}

async function wholeTicket() {
  const job = await arriveAtJob(service);
  const findingId = await findCapacitor(service, job);
  const refused = await offer(service, job, [findingId]);
  await declineAll(service, refused);
  const quote = await acceptOnly(service, await offer(service, job, [findingId]));
  await doAll(service, job, quote);
  const draft = await closeTicket(service, job);
  const invoice = await issueInvoice(service, draft);
  const [document] = invoice.body.documents;
  const labor = document.lines.find(({ kind }: { kind: string }) => kind === 'labor');
  const { made } = await move(service, invoice, 'credit-memos', {
    kind: 'goodwill',
    reason: 'We came late.',
    lines: [{ document: 1, key: labor.key, amountCents: 500 }],
  });
  const ticket = await service.as('dispatcher').get(`/v1/tickets/${job.ticketId}`);
  return {
    hashes: {
      answered: hashOf(quote),
      refused: hashOf(refused),
      invoice: await storedHash('invoice_issue', 'invoice_id', invoice.body.id),
      memo: await storedHash('credit_memo', 'id', made.id),
      record: await recordHash(job),
    },
    numbers: {
      answered: quote.body.number,
      refused: refused.body.number,
      invoice: invoice.body.number,
      memo: made.number,
      ticket: ticket.body.number,
    },
  };
}

async function storedHash(table: 'invoice_issue' | 'credit_memo', key: string, id: string) {
  const found = await service.owner.query(`SELECT content_hash FROM ${table} WHERE ${key} = $1`, [
    id,
  ]);
  return found.rows[0].content_hash as string;
}

async function recordHash({ ticketId }: Job): Promise<string> {
  const found = await service.owner.query(
    `SELECT content_hash FROM work_record r JOIN ticket_closing c ON c.id = r.closing_id
     WHERE c.ticket_id = $1`,
    [ticketId],
  );
  return found.rows[0].content_hash as string;
}

describe('an address', () => {
  it('may be typed in capitals, and may have a slash behind it', async () => {
    const { hash } = await storyOfState('open');
    for (const path of [`/paper/${hash.toUpperCase()}`, `/paper/${hash}/`]) {
      const page = expectStatus(await reader(service).get(path), 200);
      expect(page.text).toContain(`href="/paper/${hash}?lang=es"`);
    }
  });

  it('of no paper of ours leads to a page that says what to do, whatever is wrong with it', async () => {
    const pages = [
      await reader(service).get(`/paper/${randomBytes(32).toString('hex')}`),
      await reader(service).get('/paper/abc'),
      await reader(service).get(`/paper/${'g'.repeat(64)}`),
      await reader(service).get(`/paper/${'a'.repeat(65)}`),
      await reader(service).get(`/paper/${'a'.repeat(130)}`),
      await reader(service).get('/paper/'),
      await reader(service).get('/paper'),
      await reader(service).get('/paper/%zz'),
      await reader(service).get('/PAPER/x'),
      await reader(service).get('/paper/abc/more'),
      await reader(service).get('/paper/abc/link'),
      await reader(service).askAgain(randomBytes(32).toString('hex')),
      await reader(service).askAgain('abc'),
    ];
    const same = (text: string) => text.replace(/\/paper\/[0-9a-f]{64}\?/g, '/paper?');
    for (const page of pages) {
      expectStatus(page, 404);
      expect(page.headers['content-type']).toBe('text/html; charset=utf-8');
      expect(page.headers['content-security-policy']).toContain("default-src 'none'; style-src");
      expect(same(page.text)).toBe(same(pages[0]?.text ?? ''));
    }
    expect(textOf(pages[0] ?? { text: '' })).toContain('We issued no paper with this fingerprint');
    expect(pages[0]?.text).toContain('href="/verify?lang=en"');
  });

  it.each(['quote_issue', 'invoice_issue', 'credit_memo', 'work_record'])(
    'is looked up without reading every paper there is: %s',
    async (table) => {
      const client = await service.owner.connect();
      try {
        // A table of a few rows is read whole, unless that is forbidden.
        await client.query('SET enable_seqscan = off');
        const plan = await client.query(`EXPLAIN SELECT 1 FROM ${table} WHERE content_hash = 'x'`);
        expect(JSON.stringify(plan.rows)).toContain(`${table}_content_hash_idx`);
      } finally {
        client.release(true);
      }
    },
  );

  it('that a refused button leaves behind leads back to the paper', async () => {
    const { hash } = await storyOfState('open');
    const back = await reader(service).get(`/paper/${hash}/link`);
    expect(expectStatus(back, 303).headers['location']).toBe(`/paper/${hash}`);
  });
});

describe('the page', () => {
  it('runs nothing, loads nothing but its style sheet, is kept by nobody and found by no search', async () => {
    const page = await pageOf(await storyOfState('open'));
    expect(page.headers['content-security-policy']).toBe(
      "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; " +
        "frame-ancestors 'none'; base-uri 'none'",
    );
    expect(page.headers['cache-control']).toBe('no-store');
    expect(page.headers['x-robots-tag']).toBe('noindex, nofollow');
    expect(page.text).not.toMatch(/<script|<style|\sstyle=|\son\w+=|javascript:/i);
  });

  it('changes nothing when it is looked at', async () => {
    const { hash } = await storyOfState('open');
    const before = await rowsOfAll(service);
    await reader(service).get(`/paper/${hash}`);
    await reader(service).get(`/paper/${hash}?link=asked`);
    await reader(service).get('/verify');
    expect(await rowsOfAll(service)).toEqual(before);
  });

  it('is in the language that was asked for, kept for the next look, or the browser’s', async () => {
    const { hash } = await storyOfState('open');
    const asked = await reader(service).get(`/paper/${hash}?lang=es`);
    expect(asked.headers['content-language']).toBe('es');
    expect(String(asked.headers['set-cookie'])).toContain('__Host-lang=es');
    expect(asked.text).toContain(`href="/paper/${hash}?lang=en"`);
    const kept = await reader(service).get(`/paper/${hash}`, { cookie: '__Host-lang=es' });
    expect(kept.text).toContain('<html lang="es">');
    const theirs = await reader(service).get(`/paper/${hash}`, { 'accept-language': 'es-MX' });
    expect(theirs.text).toContain('<html lang="es">');
    expect(theirs.headers['set-cookie']).toBeUndefined();
  });

  it('says so in both languages when the database is away, without a word on the paper', async () => {
    const own = await createTestService();
    await own.owner.query('ALTER TABLE company RENAME TO company_away');
    const looks = [
      await reader(own).get(`/paper/${randomBytes(32).toString('hex')}`),
      await reader(own).get('/verify'),
    ];
    await own.owner.query('ALTER TABLE company_away RENAME TO company');
    await own.close();
    for (const look of looks) {
      expect(look.status).toBeGreaterThanOrEqual(500);
      expect(look.text).toContain('<h1>Our mistake</h1>');
      expect(look.text).toContain('Un error nuestro');
    }
  });
});
