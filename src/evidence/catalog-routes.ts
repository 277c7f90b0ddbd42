import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { type Route, read } from '../platform/http/route.ts';
import { faultEntrySchema, vocabularySchema } from './catalog-contract.ts';
import { describeFaults } from './describe-faults.ts';
import { vocabulary } from './vocabulary.ts';

/** What the program knows before anybody calls, as data. */
export const catalogRoutes: readonly Route[] = [
  read({
    operationId: 'listFaults',
    summary: 'The catalog of faults: what each is, what it asks for, and the tasks that mend it',
    tag: 'evidence',
    path: '/v1/faults',
    access: anyStaff,
    response: z.strictObject({ items: z.array(faultEntrySchema) }),
    handle: async () => ({ body: { items: [...describeFaults()] } }),
  }),
  read({
    operationId: 'getVocabulary',
    summary: 'Every word that evidence is made of: quantities, points, methods, checks, tasks',
    tag: 'evidence',
    path: '/v1/vocabulary',
    access: anyStaff,
    response: vocabularySchema,
    handle: async () => ({ body: vocabulary() }),
  }),
];
