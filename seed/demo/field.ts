import type { Answer, ApiClient } from './api-client.ts';

/** A visit in progress, as the technician holds it. */
export interface OnSite {
  technician: ApiClient;
  visitId: string;
  tag: string;
}

/** Drives out and arrives. */
export async function arrive(technician: ApiClient, visit: Answer): Promise<OnSite> {
  const path = `/v1/visits/${visit.body.id}`;
  const travelling = await technician.post(`${path}/start-travel`, {}, visit.tag);
  const arrived = await technician.post(`${path}/arrive`, {}, travelling.tag);
  return { technician, visitId: visit.body.id, tag: arrived.tag };
}

/** What the meter shows at a point: quantity, value, unit and method follow from the point's use. */
export type Shown = readonly [
  point: string,
  quantity: string,
  value: number,
  unit: string,
  method: string,
];

/** Records what the meter shows on one machine. */
export async function measure(at: OnSite, equipmentId: string, shown: Shown[]): Promise<void> {
  await at.technician.post(`/v1/visits/${at.visitId}/readings`, {
    readings: shown.map(([point, quantity, value, unit, method]) => ({
      equipmentId,
      point,
      quantity,
      value,
      unit,
      method,
    })),
  });
}

/** Records what is seen, heard or tried on one machine. */
export async function observe(
  at: OnSite,
  equipmentId: string,
  answers: Record<string, 'yes' | 'no'>,
  phase: 'found' | 'left' = 'found',
): Promise<void> {
  const said = Object.entries(answers);
  await at.technician.post(`/v1/visits/${at.visitId}/observations`, {
    observations: said.map(([code, answer]) => ({ equipmentId, code, answer, phase })),
  });
}

/** So many pieces of a part, or so much of what is sold by measure. */
type PartUse = { partCode: string } & ({ quantity: number } | { measured: string });

/** Names a fault with its remedy and the parts it takes. */
export async function find(
  at: OnSite,
  equipmentId: string,
  faultCode: string,
  taskCode: string,
  ...parts: readonly PartUse[]
): Promise<Answer> {
  return at.technician.post(`/v1/visits/${at.visitId}/findings`, {
    equipmentId,
    faultCode,
    taskCode,
    parts,
  });
}

/** Prices options over findings and issues the quote. */
export async function quote(
  at: OnSite,
  options: { title: string; findings: Answer[] }[],
): Promise<Answer> {
  const drafted = await at.technician.post('/v1/quotes', {
    visitId: at.visitId,
    options: options.map(({ title, findings }) => ({
      title,
      findingIds: findings.map((finding) => finding.body.id),
    })),
  });
  return at.technician.post(`/v1/quotes/${drafted.body.id}/issue`, {}, drafted.tag);
}

/** The words that a customer says yes to, in the language they read. */
const consent = {
  en: 'I accept this option at the total shown.',
  es: 'Acepto esta opción por el total que se muestra.',
} as const;

/** Records the customer's yes to an option as shown. */
export async function accept(
  at: OnSite,
  issued: Answer,
  { name, language = 'en' }: { name: string; language?: 'en' | 'es' },
  option = 0,
): Promise<Answer> {
  const chosen = issued.body.options[option];
  return at.technician.post(
    `/v1/quotes/${issued.body.id}/accept`,
    {
      optionId: chosen.id,
      acceptedByName: name,
      consentText: consent[language],
      shownTotalCents: chosen.totalCents,
      shownContentHash: issued.body.contentHash,
    },
    issued.tag,
  );
}

/** Work of an accepted quote, with the parts that went in. */
export interface Done {
  finding: Answer;
  parts?: readonly ({ partCode: string; serial?: string } & (
    | { quantity: number }
    | { measured: string }
  ))[];
}

/** Records what was done under a yes, and which parts went in; the old ones are the customer's. */
export async function doWork(at: OnSite, { body }: Answer, work: readonly Done[]): Promise<void> {
  const path = `/v1/visits/${at.visitId}`;
  for (const { finding, parts = [] } of work) {
    const under = { quoteId: body.id, findingId: finding.body.id };
    for (const part of parts) {
      // Nothing comes out where refrigerant goes in.
      const oldPart = 'measured' in part ? 'none' : 'given_to_customer';
      const use = { ...under, ...part, oldPart };
      await at.technician.post(`${path}/part-uses`, use);
    }
    await at.technician.post(`${path}/work-outcomes`, { ...under, outcome: 'done' });
  }
}

/** Records what the meter shows when the work is done. */
export async function measureAfter(at: OnSite, equipmentId: string, shown: Shown[]): Promise<void> {
  await at.technician.post(`/v1/visits/${at.visitId}/readings`, {
    readings: shown.map(([point, quantity, value, unit, method]) => ({
      equipmentId,
      point,
      quantity,
      value,
      unit,
      method,
      phase: 'left',
    })),
  });
}

/** Refrigerant that went in or came out, by the cylinder on the scale. */
export async function weigh(
  at: OnSite,
  move: {
    equipmentId: string;
    direction: 'charged' | 'recovered';
    cylinder: string;
    beforeOz: string;
    afterOz: string;
  },
): Promise<void> {
  const path = `/v1/visits/${at.visitId}/refrigerant-moves`;
  await at.technician.post(path, { refrigerant: 'R-410A', ...move });
}

/** Ends the visit. */
export async function finish(at: OnSite, ticketIs: string): Promise<void> {
  await at.technician.post(`/v1/visits/${at.visitId}/finish`, { ticketIs }, at.tag);
}

/** Closes the ticket, issues its invoice and takes the money. @returns the invoice as it stands */
export async function closeAndBill(
  at: OnSite,
  ticketId: string,
  how: { conditionLeft: string; noReadingsWhy?: string; complaintGone?: 'yes' | 'no' },
): Promise<Answer> {
  const { technician } = at;
  const ticket = await technician.get(`/v1/tickets/${ticketId}`);
  const closing = { complaintGone: 'yes', ...how };
  await technician.post(`/v1/tickets/${ticketId}/close`, closing, ticket.tag);
  const [made] = (await technician.get(`/v1/invoices?ticketId=${ticketId}`)).body.items;
  const path = `/v1/invoices/${made.id}`;
  const drafted = await technician.get(path);
  const issued = await technician.post(`${path}/issue`, {}, drafted.tag);
  const owed = issued.body.balanceCents;
  if (owed > 0) {
    await technician.post(`${path}/payments`, { method: 'cash', amountCents: owed }, issued.tag);
  }
  return technician.get(path);
}
