import { anyStaff } from '../platform/access/actor.ts';
import type { Company } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { changeCompany } from './change-company.ts';
import { companyOf } from './company-of.ts';
import { companyChangeSchema, companySchema, newCompanySchema } from './contract.ts';
import { setUpCompany } from './set-up-company.ts';

export const companyRoutes: readonly Route[] = [
  read({
    operationId: 'getCompany',
    summary: 'The company: letterhead, license, zone',
    tag: 'company',
    path: '/v1/company',
    access: anyStaff,
    response: companySchema,
    versioned: true,
    handle: async ({ prisma }) => answer(await companyOf(prisma)),
  }),
  act({
    operationId: 'setUpCompany',
    summary: 'Say who the company is, once, before anybody works here',
    tag: 'company',
    method: 'POST',
    path: '/v1/company',
    access: ['owner'],
    isBeforeSetUp: true,
    body: newCompanySchema,
    response: companySchema,
    status: 201,
    problems: ['already-exists'],
    handle: async (context, { body }) => ({
      ...answer(await setUpCompany(context, body)),
      location: '/v1/company',
    }),
  }),
  act({
    operationId: 'changeCompany',
    summary: 'Change what the company says of itself; papers that are out stay as they are',
    tag: 'company',
    method: 'PATCH',
    path: '/v1/company',
    access: ['owner'],
    body: companyChangeSchema,
    response: companySchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { body }) => answer(await changeCompany(context, body)),
  }),
];

function answer({ id: _, ...company }: Company) {
  return { body: company, etag: versionTag(company.version) };
}
