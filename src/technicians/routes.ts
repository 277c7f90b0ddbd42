import { z } from 'zod';
import { type Access, anyStaff } from '../platform/access/actor.ts';
import { idParam, plannableDay } from '../platform/http/formats.ts';
import { pageOf } from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { addAbsence } from './add-absence.ts';
import { addCertificate } from './add-certificate.ts';
import { addHelper } from './add-helper.ts';
import { addWorkWeek } from './add-work-week.ts';
import { absenceBody, certificateBody, helperBody } from './bodies.ts';
import { changeTechnician } from './change-technician.ts';
import {
  absenceSchema,
  addedAbsenceSchema,
  addedHelperSchema,
  addedWorkWeekSchema,
  certificateSchema,
  expiringCertificateSchema,
  helperSchema,
  newAbsenceSchema,
  newCertificateSchema,
  newHelperSchema,
  newWorkWeekSchema,
  profileSchema,
  technicianChangeSchema,
  technicianSchema,
  wholeTechnicianSchema,
} from './contract.ts';
import { profileBody } from './days-of.ts';
import { endHelper } from './end-helper.ts';
import { expiringCertificates } from './expiring-certificates.ts';
import { listTechnicians, technicianListQuery } from './list-technicians.ts';
import { technicianTag } from './technician-tag.ts';
import { wholeTechnician } from './whole-technician.ts';
import { withdrawAbsence } from './withdraw-absence.ts';
import { withdrawCertificate } from './withdraw-certificate.ts';

const office: Access = ['dispatcher', 'owner'];
const tag = 'technicians';
const technician = idParam('technicianId');

export const technicianRoutes: readonly Route[] = [
  read({
    operationId: 'listTechnicians',
    summary: 'Who drives out, with their hours on a day',
    tag,
    path: '/v1/technicians',
    access: office,
    query: technicianListQuery,
    response: pageOf(technicianSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query }) => ({ body: await listTechnicians(context, query) }),
  }),
  read({
    operationId: 'getTechnician',
    summary: 'One technician with hours, days away, certificates; a technician only themselves',
    description:
      'Hours start on the day asked for, today unless given. The ETag is of all that is on record.',
    tag,
    path: '/v1/technicians/:technicianId',
    access: anyStaff,
    params: technician,
    query: z.strictObject({ day: plannableDay.optional() }),
    response: wholeTechnicianSchema,
    versioned: true,
    handle: (context, { params, query }) =>
      wholeTechnician(context, params.technicianId, query.day),
  }),
  act({
    operationId: 'changeTechnician',
    summary: 'Change where a technician sets out and what they can work on',
    tag,
    method: 'PATCH',
    path: '/v1/technicians/:technicianId',
    access: office,
    params: technician,
    body: technicianChangeSchema,
    response: profileSchema,
    ifMatch: true,
    handle: async (context, { params, body }) => {
      const changed = await changeTechnician(context, params.technicianId, body);
      const etag = await technicianTag(context.tx, changed, context.now);
      return { body: profileBody(changed), etag };
    },
  }),
  act({
    operationId: 'addWorkWeek',
    summary: 'Write down the hours of a technician’s week, from a day on',
    description: 'What is booked then stays booked; `affectedVisits` names what has to be moved.',
    tag,
    method: 'POST',
    path: '/v1/technicians/:technicianId/work-weeks',
    access: office,
    params: technician,
    body: newWorkWeekSchema,
    response: addedWorkWeekSchema,
    status: 201,
    handle: async (context, { params, body }) => ({
      body: await addWorkWeek(context, params.technicianId, body),
    }),
  }),
  act({
    operationId: 'addAbsence',
    summary: 'Write down days off, sick, in training, with other hours or on call',
    description: 'What is booked then stays booked; `affectedVisits` names what has to be moved.',
    tag,
    method: 'POST',
    path: '/v1/technicians/:technicianId/absences',
    access: office,
    params: technician,
    body: newAbsenceSchema,
    response: addedAbsenceSchema,
    status: 201,
    handle: async (context, { params, body }) => ({
      body: await addAbsence(context, params.technicianId, body),
    }),
  }),
  act({
    operationId: 'withdrawAbsence',
    summary: 'Take an absence back: the hours are again those of the week',
    tag,
    method: 'POST',
    path: '/v1/technicians/:technicianId/absences/:absenceId/withdraw',
    access: office,
    params: technician.extend(idParam('absenceId').shape),
    response: absenceSchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) => ({
      body: absenceBody(await withdrawAbsence(context, params)),
    }),
  }),
  act({
    operationId: 'addCertificate',
    summary: 'Put a certificate of a technician on record, with the day it expires',
    tag,
    method: 'POST',
    path: '/v1/technicians/:technicianId/certificates',
    access: office,
    params: technician,
    body: newCertificateSchema,
    response: certificateSchema,
    status: 201,
    handle: async (context, { params, body }) => ({
      body: certificateBody(await addCertificate(context, params.technicianId, body)),
    }),
  }),
  act({
    operationId: 'withdrawCertificate',
    summary: 'Take a certificate off the record',
    tag,
    method: 'POST',
    path: '/v1/technicians/:technicianId/certificates/:certificateId/withdraw',
    access: office,
    params: technician.extend(idParam('certificateId').shape),
    response: certificateSchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) => ({
      body: certificateBody(await withdrawCertificate(context, params)),
    }),
  }),
  read({
    operationId: 'listExpiringCertificates',
    summary: 'Certificates that have expired, or do so within 30 days',
    tag,
    path: '/v1/expiring-certificates',
    access: office,
    response: z.strictObject({ items: z.array(expiringCertificateSchema) }),
    handle: async (context) => ({ body: { items: await expiringCertificates(context) } }),
  }),
  act({
    operationId: 'addHelper',
    summary: 'Let another technician go along with one, for some days',
    tag,
    method: 'POST',
    path: '/v1/technicians/:technicianId/helpers',
    access: office,
    params: technician,
    body: newHelperSchema,
    response: addedHelperSchema,
    status: 201,
    problems: ['unknown-reference', 'already-exists'],
    handle: async (context, { params, body }) => ({
      body: await addHelper(context, params.technicianId, body),
    }),
  }),
  act({
    operationId: 'endHelper',
    summary: 'Take days of a helper back',
    tag,
    method: 'POST',
    path: '/v1/technicians/:technicianId/helpers/:helperDaysId/end',
    access: office,
    params: technician.extend(idParam('helperDaysId').shape),
    response: helperSchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) => ({ body: helperBody(await endHelper(context, params)) }),
  }),
];
