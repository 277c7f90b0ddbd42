import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { compute, type Route, read } from '../platform/http/route.ts';
import { assessEvidence } from './assess-evidence.ts';
import { assessVisit } from './assess-visit.ts';
import {
  assessmentQuerySchema,
  evidenceAssessmentSchema,
  evidenceToAssessSchema,
  lastGoodSchema,
  visitAssessmentSchema,
} from './assessment-contract.ts';
import { compareWithLast } from './compare-with-last.ts';

export const assessmentRoutes: readonly Route[] = [
  read({
    operationId: 'assessVisit',
    summary: 'What is proven, supported or excluded so far, and what to check next',
    description:
      'For each system of the site: the verdicts on each of its machines, who is suspected, and ' +
      'the checks worth doing next, the best first. Asked in one calendar month, the same ' +
      'evidence gets the same answer.',
    tag: 'evidence',
    path: '/v1/visits/:visitId/assessment',
    access: anyStaff,
    params: idParam('visitId'),
    query: assessmentQuerySchema,
    response: visitAssessmentSchema,
    handle: async (context, { params, query }) => ({
      body: await assessVisit(context, params.visitId, query),
    }),
  }),
  read({
    operationId: 'getLastGood',
    summary: 'What was measured on a machine today beside the last time it was measured',
    description:
      'Each figure beside the latest earlier visit that has it, as the work left it there or ' +
      'else as it was found, and whether it changed by more than the methods are good to.',
    tag: 'evidence',
    path: '/v1/visits/:visitId/last-good',
    access: anyStaff,
    params: idParam('visitId'),
    query: z.strictObject({ equipmentId: z.uuid() }),
    response: lastGoodSchema,
    handle: async (context, { params, query }) => ({
      body: await compareWithLast(context, params.visitId, query.equipmentId),
    }),
  }),
  compute({
    operationId: 'assessEvidence',
    summary: 'The same for evidence of one system that is told here and not kept',
    description:
      'Up to 8 machines, 300 readings and 300 observations. Nothing is stored, so it can be ' +
      'asked as often as anybody likes, and needs no `Idempotency-Key`.',
    tag: 'evidence',
    path: '/v1/assessments',
    access: anyStaff,
    body: evidenceToAssessSchema,
    response: evidenceAssessmentSchema,
    problems: ['reading-out-of-range', 'unknown-reference'],
    handle: async (context, { body }) => ({ body: await assessEvidence(context, body) }),
  }),
];
