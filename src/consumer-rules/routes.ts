import { z } from 'zod';
import { code, idParam } from '../platform/http/formats.ts';
import { pageOf, pageQuery } from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { addConsumerRule } from './add-consumer-rule.ts';
import { answerConsumerRule } from './answer-consumer-rule.ts';
import { confirmConsumerRule } from './confirm-consumer-rule.ts';
import {
  consumerRuleAnswerSchema,
  consumerRuleConfirmationSchema,
  consumerRuleEndSchema,
  newConsumerRuleSchema,
} from './contract.ts';
import { endConsumerRule } from './end-consumer-rule.ts';
import { listConsumerRules } from './list-consumer-rules.ts';

export const consumerRuleRoutes: readonly Route[] = [
  act({
    operationId: 'addConsumerRule',
    summary: 'Add a consumer-protection rule of a jurisdiction',
    description:
      'Its text stands on every quote from its amount on. It is the owner’s counsel who confirms ' +
      'that it is right and whole; nothing here is legal advice.',
    tag: 'consumer rules',
    method: 'POST',
    path: '/v1/consumer-rules',
    access: ['owner'],
    body: newConsumerRuleSchema,
    response: consumerRuleAnswerSchema,
    status: 201,
    problems: ['already-exists'],
    handle: async (context, { body }) => ({
      body: answerConsumerRule(await addConsumerRule(context, body)),
    }),
  }),
  read({
    operationId: 'listConsumerRules',
    summary: 'Consumer-protection rules, oldest first, with who has confirmed them',
    tag: 'consumer rules',
    path: '/v1/consumer-rules',
    access: ['dispatcher', 'owner'],
    query: z.strictObject({ ...pageQuery, jurisdiction: code.optional() }),
    response: pageOf(consumerRuleAnswerSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query }) => ({ body: await listConsumerRules(context, query) }),
  }),
  act({
    operationId: 'confirmConsumerRule',
    summary: 'Note that counsel has confirmed a rule',
    tag: 'consumer rules',
    method: 'POST',
    path: '/v1/consumer-rules/:ruleId/confirm',
    access: ['owner'],
    params: idParam('ruleId'),
    body: consumerRuleConfirmationSchema,
    response: consumerRuleAnswerSchema,
    problems: ['not-found', 'already-exists'],
    handle: async (context, { params, body }) => ({
      body: answerConsumerRule(await confirmConsumerRule(context, params.ruleId, body.confirmedBy)),
    }),
  }),
  act({
    operationId: 'endConsumerRule',
    summary: 'End a rule; papers issued under it keep its text',
    tag: 'consumer rules',
    method: 'POST',
    path: '/v1/consumer-rules/:ruleId/end',
    access: ['owner'],
    params: idParam('ruleId'),
    body: consumerRuleEndSchema,
    response: consumerRuleAnswerSchema,
    problems: ['not-found', 'not-allowed-now'],
    handle: async (context, { params, body }) => ({
      body: answerConsumerRule(await endConsumerRule(context, params.ruleId, body.effectiveTo)),
    }),
  }),
];
