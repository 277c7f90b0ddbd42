import { z } from 'zod';
import { type Access, anyStaff } from '../platform/access/actor.ts';
import type { Observation, Reading } from '../platform/database/generated/client.ts';
import { idParam } from '../platform/http/formats.ts';
import { act, bytes, type Route, read } from '../platform/http/route.ts';
import { sentFileSchema } from '../platform/http/sent-file.ts';
import { gaugeUnitSchema } from '../trade/index.ts';
import { visitOf } from '../visits/index.ts';
import { addFinding } from './add-finding.ts';
import { addPhoto } from './add-photo.ts';
import { assessmentRoutes } from './assessment-routes.ts';
import { catalogRoutes } from './catalog-routes.ts';
import {
  evidenceAnswerSchema,
  findingSchema,
  newFindingSchema,
  newObservationsSchema,
  newPhotoQuerySchema,
  newReadingsSchema,
  observationAnswerSchema,
  overrideSchema,
  photoSchema,
  readingAnswerSchema,
  sha256Hex,
  visitPhotoSchema,
} from './contract.ts';
import { describeFinding, findingsOf, observationsAt } from './findings-of.ts';
import { toObservation, toReading } from './gather-evidence.ts';
import { overrideFinding } from './override-finding.ts';
import { photoMediaTypes } from './photo-media-type.ts';
import { photoLimits } from './photo-refusal.ts';
import { photosOf } from './photos-of.ts';
import { readPhoto } from './read-photo.ts';
import { recordObservations } from './record-observations.ts';
import { recordReadings } from './record-readings.ts';

// Evidence is made by whoever stands before the equipment, never at a desk.
const onSiteStaff: Access = ['technician', 'owner'];

export const evidenceRoutes: readonly Route[] = [
  ...catalogRoutes,
  act({
    operationId: 'recordReadings',
    summary: 'Record what the instruments show',
    tag: 'evidence',
    method: 'POST',
    path: '/v1/visits/:visitId/readings',
    access: onSiteStaff,
    params: idParam('visitId'),
    body: newReadingsSchema,
    response: z.strictObject({ items: z.array(readingAnswerSchema) }),
    status: 201,
    problems: [
      'reading-out-of-range',
      'certificate-missing',
      'unknown-reference',
      'not-allowed-now',
    ],
    handle: async (context, { params, body }) => {
      const recorded = await recordReadings(context, params.visitId, body.readings);
      return { body: { items: recorded.map(toReadingAnswer) } };
    },
  }),
  act({
    operationId: 'addPhoto',
    summary: 'Keep a photo of a visit, for readings and observations to name',
    description:
      'The body is the image itself, up to 10 MiB, with a shorter side of at least ' +
      `${photoLimits.sidePxMin} pixels, no side above ${photoLimits.sidePxMax} and no more than ` +
      `${photoLimits.pixelsMax / 1e6} megapixels. It is kept exactly as sent, and so is what the ` +
      'camera wrote into it, which may be the time and the place. The same image sent to the same ' +
      'visit again is the same photo: what it was first said to show stands, and the answer says it.',
    tag: 'evidence',
    method: 'POST',
    path: '/v1/visits/:visitId/photos',
    access: onSiteStaff,
    params: idParam('visitId'),
    query: newPhotoQuerySchema,
    body: sentFileSchema,
    consumes: { mediaTypes: photoMediaTypes, bytesMax: 10 * 1024 * 1024 },
    response: photoSchema,
    status: 201,
    problems: ['photo-unusable', 'not-allowed-now'],
    handle: async (context, { params, query, body }) => {
      const photo = await addPhoto(context, params.visitId, query.shows, body);
      return { body: photo, location: `/v1/photos/${photo.sha256}` };
    },
  }),
  read({
    operationId: 'listPhotos',
    summary: 'The photos of a visit, without the pictures',
    tag: 'evidence',
    path: '/v1/visits/:visitId/photos',
    access: anyStaff,
    params: idParam('visitId'),
    response: z.strictObject({ items: z.array(visitPhotoSchema) }),
    handle: async (context, { params }) => {
      const visit = await visitOf(context.prisma, context, params.visitId);
      return { body: { items: await photosOf(context.prisma, { visitId: visit.id }) } };
    },
  }),
  bytes({
    operationId: 'getPhoto',
    summary: 'One photo, to be saved',
    tag: 'evidence',
    path: '/v1/photos/:sha256',
    access: anyStaff,
    params: z.strictObject({ sha256: sha256Hex }),
    mediaTypes: photoMediaTypes,
    disposition: 'attachment',
    handle: (context, { params }) => readPhoto(context, params.sha256),
  }),
  act({
    operationId: 'recordObservations',
    summary: 'Record what is seen, heard or tried',
    tag: 'evidence',
    method: 'POST',
    path: '/v1/visits/:visitId/observations',
    access: onSiteStaff,
    params: idParam('visitId'),
    body: newObservationsSchema,
    response: z.strictObject({ items: z.array(observationAnswerSchema) }),
    status: 201,
    problems: ['unknown-reference', 'not-allowed-now'],
    handle: async (context, { params, body }) => {
      const recorded = await recordObservations(context, params.visitId, body.observations);
      return { body: { items: recorded.map(toObservationAnswer) } };
    },
  }),
  read({
    operationId: 'getEvidence',
    summary: 'Everything recorded at a visit, and what was reported by phone before it',
    tag: 'evidence',
    path: '/v1/visits/:visitId/evidence',
    access: anyStaff,
    params: idParam('visitId'),
    response: evidenceAnswerSchema,
    handle: async (context, { params }) => {
      const visit = await visitOf(context.prisma, context, params.visitId);
      const where = { visitId: visit.id };
      const byPhone = { visitId: null, ticketId: visit.ticketId };
      const [readings, observations] = await Promise.all([
        context.prisma.reading.findMany({ where, orderBy: { id: 'asc' } }),
        context.prisma.observation.findMany({
          where: { OR: [where, byPhone] },
          orderBy: { id: 'asc' },
        }),
      ]);
      return {
        body: {
          readings: readings.map(toReadingAnswer),
          observations: observations.map(toObservationAnswer),
        },
      };
    },
  }),
  ...assessmentRoutes,
  act({
    operationId: 'addFinding',
    summary: 'Name a fault with its remedy, and freeze the verdict',
    tag: 'evidence',
    method: 'POST',
    path: '/v1/visits/:visitId/findings',
    access: onSiteStaff,
    params: idParam('visitId'),
    body: newFindingSchema,
    response: findingSchema,
    status: 201,
    problems: [
      'certificate-missing',
      'does-not-fit',
      'unknown-reference',
      'not-allowed-now',
      'no-price-book',
    ],
    handle: async (context, { params, body }) => {
      const id = await addFinding(context, params.visitId, body);
      const findings = await findingsOf(context.tx, params.visitId);
      const finding = findings.find((each) => each.id === id);
      if (finding === undefined) throw new Error('the finding just added is not there');
      return { body: finding };
    },
  }),
  read({
    operationId: 'listFindings',
    summary: 'The findings of a visit',
    tag: 'evidence',
    path: '/v1/visits/:visitId/findings',
    access: anyStaff,
    params: idParam('visitId'),
    response: z.strictObject({ items: z.array(findingSchema) }),
    handle: async (context, { params }) => {
      const visit = await visitOf(context.prisma, context, params.visitId);
      return { body: { items: await findingsOf(context.prisma, visit.id) } };
    },
  }),
  act({
    operationId: 'overrideFinding',
    summary: 'Let a finding be priced that the evidence does not carry, with a reason on record',
    tag: 'evidence',
    method: 'POST',
    path: '/v1/findings/:findingId/override',
    access: ['owner'],
    params: idParam('findingId'),
    body: overrideSchema,
    response: findingSchema,
    status: 201,
    problems: ['already-exists'],
    handle: async (context, { params, body }) => {
      await overrideFinding(context, params.findingId, body.reason);
      const row = await context.tx.finding.findUniqueOrThrow({
        where: { id: params.findingId },
        include: { parts: true, override: true },
      });
      return { body: describeFinding(row, await observationsAt(context.tx, row.visitId)) };
    },
  }),
];

function toReadingAnswer(row: Reading): z.input<typeof readingAnswerSchema> {
  return {
    ...toReading(row),
    shownValue: row.shownValue,
    shownUnit: row.shownUnit === null ? null : gaugeUnitSchema.parse(row.shownUnit),
    visitId: row.visitId,
    instrument: row.instrument,
    photoSha256: row.photoSha256,
    recordedAt: row.recordedAt.toISOString(),
  };
}

function toObservationAnswer(row: Observation): z.input<typeof observationAnswerSchema> {
  const { at, code, answer, source, phase } = toObservation(row);
  return {
    id: row.id,
    visitId: row.visitId,
    equipmentId: row.equipmentId,
    code,
    answer,
    source,
    phase,
    photoSha256: row.photoSha256,
    note: row.note,
    observedAt: at,
    recordedAt: row.recordedAt.toISOString(),
  };
}
