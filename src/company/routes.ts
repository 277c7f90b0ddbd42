import { anyStaff } from '../platform/access/actor.ts';
import { type Route, read } from '../platform/http/route.ts';
import { companyOf } from './company-of.ts';
import { companySchema } from './contract.ts';

export const companyRoutes: readonly Route[] = [
  read({
    operationId: 'getCompany',
    summary: 'The company: letterhead, license, zone',
    tag: 'company',
    path: '/v1/company',
    access: anyStaff,
    response: companySchema,
    handle: async ({ prisma }) => {
      const { id: _id, version: _version, ...company } = await companyOf(prisma);
      return { body: company };
    },
  }),
];
