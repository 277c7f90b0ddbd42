import { canonicalJson } from '../../src/platform/canonical-json.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import type { Member } from './company-plan.ts';
import type { Pen } from './pen.ts';
import type { YearBook } from './price-books.ts';

/** Writes what a company has before its first call: itself, its people, taxes and price books. */
export function writeOffice(pen: Pen): void {
  const { plan } = pen;
  const { name, timeZone, defaultJurisdiction } = plan.company;
  pen.add('company', { ...plan.company, id: 1 });
  pen.note(plan.began, undefined, {
    event: 'company.set_up',
    subject: { kind: 'company', id: '1' },
    after: { name, timeZone, defaultJurisdiction },
  });
  const members = [plan.owner, ...plan.dispatchers, ...plan.technicians];
  for (const member of members) writeMember(pen, member);
  for (const rule of plan.taxRules) writeTaxRule(pen, rule);
  for (const book of plan.books) writeBook(pen, book);
}

function writeMember(pen: Pen, member: Member): void {
  pen.add('staff', { ...member, email: null, createdAt: pen.plan.began });
  pen.note(pen.plan.began, undefined, {
    event: 'staff.added',
    subject: { kind: 'staff', id: member.id },
    after: { role: member.role },
  });
}

function writeTaxRule(pen: Pen, rule: Pen['plan']['taxRules'][number]): void {
  const { plan } = pen;
  const id = pen.makeId(plan.began);
  const { effectiveTo = null, separateAboveShare = null } = rule;
  pen.add('tax_rule', { ...rule, id, effectiveTo, separateAboveShare });
  pen.note(plan.began, plan.owner, {
    event: 'tax_rule.added',
    subject: { kind: 'tax_rule', id },
    after: { ...rule },
  });
}

function writeBook(pen: Pen, book: YearBook): void {
  const { id, number, from, tasks, parts, ...terms } = book;
  const { owner } = pen.plan;
  pen.add('price_book_version', {
    id,
    number,
    effectiveFrom: from,
    rates: JSON.stringify(terms.rates),
    tiers: JSON.stringify(terms.tiers),
    policy: JSON.stringify(terms.policy),
    periods: JSON.stringify(terms.periods),
    agreements: JSON.stringify(terms.agreements),
    replacements: JSON.stringify(terms.replacements),
    publishedAt: from,
    publishedById: owner.id,
  });
  for (const task of tasks) pen.add('price_book_task', { ...task, versionId: id });
  for (const { fit, supplier = null, measured, ...part } of parts) {
    pen.add('price_book_part', {
      ...part,
      versionId: id,
      supplier,
      unit: measured?.unit ?? null,
      packQuantity: measured?.packQuantity ?? null,
      category: fit.category,
      specs: JSON.stringify(fit.specs),
    });
  }
  pen.note(from, owner, {
    event: 'price_book.published',
    subject: { kind: 'price_book', id },
    after: {
      number,
      effectiveFrom: terms.effectiveFrom,
      contentSha256: sha256(canonicalJson({ ...terms, tasks, parts })),
    },
  });
}
