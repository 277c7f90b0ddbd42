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
): Promise<void> {
  await at.technician.post(`/v1/visits/${at.visitId}/observations`, {
    observations: Object.entries(answers).map(([code, answer]) => ({ equipmentId, code, answer })),
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

/** Records the customer's yes to an option as shown. */
export async function accept(
  at: OnSite,
  issued: Answer,
  acceptedByName: string,
  option = 0,
): Promise<Answer> {
  const chosen = issued.body.options[option];
  return at.technician.post(
    `/v1/quotes/${issued.body.id}/accept`,
    {
      optionId: chosen.id,
      acceptedByName,
      consentText: 'I accept this option at the total shown.',
      shownTotalCents: chosen.totalCents,
      shownContentHash: issued.body.contentHash,
    },
    issued.tag,
  );
}

/** Ends the visit. */
export async function finish(at: OnSite, ticketIs: string): Promise<void> {
  await at.technician.post(`/v1/visits/${at.visitId}/finish`, { ticketIs }, at.tag);
}
