import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { compute, type Route, read } from '../platform/http/route.ts';
import { assessEvidence } from './assess-evidence.ts';
import { assessVisit } from './assess-visit.ts';
import {
  assessmentQuerySchema,
  evidenceAssessmentSchema,
  evidenceToAssessSchema,
  visitAssessmentSchema,
} from './assessment-contract.ts';

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
  compute({
    operationId: 'assessEvidence',
    summary: 'The same for evidence of one system that is told here and not kept',
    description:
      'Up to 20 machines, 300 readings and 300 observations. Nothing is stored, so it can be ' +
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
