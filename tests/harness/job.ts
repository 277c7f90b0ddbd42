import { expectStatus, type TestService } from './test-service.ts';

/** A site with a customer, one system, an outdoor unit and an air handler. */
export interface Site {
  customerId: string;
  siteId: string;
  systemId: string;
  outdoorId: string;
  indoorId: string;
}

/** The nameplate of the invented outdoor unit. */
export const outdoorPlate = {
  phase: 1,
  supplyVoltsMin: 187,
  supplyVoltsMax: 253,
  compressorRlaAmps: 17.9,
  compressorLraAmps: 112,
  fanFlaAmps: 1.1,
  capacitorHermUf: 45,
  capacitorFanUf: 5,
  capacitorVolts: 440,
  capacitorTolerancePercent: 6,
  mcaAmps: 23.5,
  mocpAmps: 40,
  refrigerant: 'R-410A',
  compressorMotor: 'psc',
  fanMotor: 'psc',
  tons: 3,
} as const;

/** Adds a customer with a site and its equipment, as the dispatcher does while talking. */
export async function addSite(
  service: TestService,
  change: { jurisdiction?: string; outdoor?: object } = {},
): Promise<Site> {
  const dispatcher = service.as('dispatcher');
  const customer = expectStatus(
    await dispatcher.post('/v1/customers', { name: 'Winifred Ashgrove', phone: '555-0111' }),
    201,
  );
  const site = expectStatus(
    await dispatcher.post('/v1/sites', {
      street: '3 Thistle Court',
      city: 'Wrenfield',
      region: 'QX',
      postalCode: '00000',
      occupantId: customer.body.id,
      ...(change.jurisdiction && { jurisdiction: change.jurisdiction }),
    }),
    201,
  );
  const system = expectStatus(
    await dispatcher.post(`/v1/sites/${site.body.id}/systems`, { name: 'Main floor' }),
    201,
  );
  const equipment = `/v1/systems/${system.body.id}/equipment`;
  const outdoor = expectStatus(
    await dispatcher.post(equipment, {
      kind: 'condensing_unit',
      nameplate: outdoorPlate,
      ...change.outdoor,
    }),
    201,
  );
  const indoor = expectStatus(
    await dispatcher.post(equipment, { kind: 'air_handler', nameplate: { controlFuseAmps: 3 } }),
    201,
  );
  return {
    customerId: customer.body.id,
    siteId: site.body.id,
    systemId: system.body.id,
    outdoorId: outdoor.body.id,
    indoorId: indoor.body.id,
  };
}

/** A job with the technician on site. */
export interface Job extends Site {
  ticketId: string;
  visitId: string;
  visitTag: string;
}

let booked = 0;

/** A fresh arrival window of two hours from one in the afternoon, on a weekday of its own. */
export function freeWindow(): { windowStart: string; windowEnd: string } {
  const day = new Date(Date.UTC(2026, 6, 15));
  // Mondays only, so that every window is in regular hours.
  day.setUTCDate(day.getUTCDate() + 5 + 7 * booked);
  booked += 1;
  const date = day.toISOString().slice(0, 10);
  return { windowStart: `${date}T18:00:00Z`, windowEnd: `${date}T20:00:00Z` };
}

/** A window with the fee that is told for it; regular hours unless given. */
export interface Booking {
  windowStart?: string;
  windowEnd?: string;
  toldFeeCents?: number;
}

/** Takes a call and books the first technician; the visit is not started. */
export async function bookJob(
  service: TestService,
  site?: Site,
  { toldFeeCents = 8_900, ...window }: Booking = {},
): Promise<Job> {
  const place = site ?? (await addSite(service));
  const dispatcher = service.as('dispatcher');
  const ticket = expectStatus(
    await dispatcher.post('/v1/tickets', {
      siteId: place.siteId,
      complaint: 'It blows warm air.',
      symptoms: ['no_cooling'],
    }),
    201,
  );
  const visit = expectStatus(
    await dispatcher.post('/v1/visits', {
      ticketId: ticket.body.id,
      technicianId: service.staff.technician.id,
      ...freeWindow(),
      ...window,
      feeDisclosure: { toldFeeCents, agreedBy: 'Winifred Ashgrove' },
    }),
    201,
  );
  return {
    ...place,
    ticketId: ticket.body.id,
    visitId: visit.body.id,
    visitTag: visit.headers['etag'] ?? '',
  };
}

/** A booked job whose technician has arrived. */
export async function arriveAtJob(
  service: TestService,
  site?: Site,
  booking?: Booking,
): Promise<Job> {
  const job = await bookJob(service, site, booking);
  const technician = service.as('technician');
  let tag = job.visitTag;
  for (const verb of ['start-travel', 'arrive']) {
    const moved = await technician.post(`/v1/visits/${job.visitId}/${verb}`, {}, { ifMatch: tag });
    tag = expectStatus(moved, 200).headers['etag'] ?? '';
  }
  return { ...job, visitTag: tag };
}

/** How a visit ends whose ticket then waits for a part. */
export const waitsForPart = {
  ticketIs: 'waiting_for_part',
  waitingFor: {
    what: 'The blower motor',
    promisedOn: '2027-01-04',
    toldTo: 'Winifred Ashgrove',
  },
} as const;

/** Records readings that prove the compressor section of the capacitor failed. */
export async function proveCapacitor(service: TestService, job: Job): Promise<void> {
  const at = { equipmentId: job.outdoorId, point: 'capacitor_herm', method: 'clamp_meter' };
  expectStatus(
    await service.as('technician').post(`/v1/visits/${job.visitId}/readings`, {
      readings: [
        { ...at, quantity: 'current', value: 4.1, unit: 'A' },
        { ...at, quantity: 'voltage', value: 352, unit: 'V' },
      ],
    }),
    201,
  );
}

/** Adds a finding and gives its identifier. */
export async function addFinding(
  service: TestService,
  job: Job,
  finding: { equipmentId: string; faultCode: string; taskCode: string; parts?: object[] },
): Promise<string> {
  const path = `/v1/visits/${job.visitId}/findings`;
  return expectStatus(await service.as('technician').post(path, finding), 201).body.id;
}

/** A proven capacitor finding with its part. */
export async function findCapacitor(service: TestService, job: Job): Promise<string> {
  await proveCapacitor(service, job);
  return addFinding(service, job, {
    equipmentId: job.outdoorId,
    faultCode: 'run_capacitor_herm',
    taskCode: 'replace_dual_run_capacitor',
    parts: [{ partCode: 'CAP-45-5-440', quantity: 1 }],
  });
}

/** A quote with its tag. */
export interface QuoteAt {
  // biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
  body: any;
  tag: string;
}

/** Drafts a quote of one option over findings. */
export async function draftQuote(
  service: TestService,
  job: Job,
  findingIds: string[],
): Promise<QuoteAt> {
  const drafted = await service.as('technician').post('/v1/quotes', {
    visitId: job.visitId,
    options: [{ title: 'Repair', findingIds }],
  });
  expectStatus(drafted, 201);
  return { body: drafted.body, tag: drafted.headers['etag'] ?? '' };
}

/** Issues a drafted quote. */
export async function issueQuote(service: TestService, quote: QuoteAt): Promise<QuoteAt> {
  const issued = await service
    .as('technician')
    .post(`/v1/quotes/${quote.body.id}/issue`, {}, { ifMatch: quote.tag });
  expectStatus(issued, 200);
  return { body: issued.body, tag: issued.headers['etag'] ?? '' };
}

/** What a customer's yes to the first option of an issued quote sends. */
export function yesTo({ body }: QuoteAt): Record<string, unknown> {
  return {
    optionId: body.options[0].id,
    acceptedByName: 'Winifred Ashgrove',
    consentText: 'I accept this option at this total.',
    shownTotalCents: body.options[0].totalCents,
    shownContentHash: body.contentHash,
  };
}
