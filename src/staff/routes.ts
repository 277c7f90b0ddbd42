import { z } from 'zod';
import { anyStaff, roles } from '../platform/access/actor.ts';
import { cutPage, pageOf, pageQuery, startAfter } from '../platform/http/page.ts';
import { type Route, read } from '../platform/http/route.ts';
import { staffSchema } from './contract.ts';

export const staffRoutes: readonly Route[] = [
  read({
    operationId: 'listStaff',
    summary: 'Who works here',
    tag: 'staff',
    path: '/v1/staff',
    access: anyStaff,
    isBeforeSetUp: true,
    query: z.strictObject({ ...pageQuery, role: z.enum(roles).optional() }),
    response: pageOf(staffSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma }, { query }) => {
      const filter = { list: 'staff', role: query.role };
      const after = startAfter(query.cursor, filter);
      const rows = await prisma.staff.findMany({
        where: {
          disabledAt: null,
          ...(query.role && { role: query.role }),
          ...(after && { id: { gt: after } }),
        },
        orderBy: { id: 'asc' },
        take: query.limit + 1,
        select: { id: true, name: true, role: true, phone: true, epa608Type: true },
      });
      return { body: cutPage(rows, query.limit, filter) };
    },
  }),
];
