import type { Route } from '../platform/http/route.ts';
import { billRoutes } from './bill-routes.ts';
import { placeRoutes } from './place-routes.ts';
import { reorderRoutes } from './reorder-routes.ts';
import { stockRoutes } from './stock-routes.ts';

export const supplyRoutes: readonly Route[] = [
  ...billRoutes,
  ...placeRoutes,
  ...stockRoutes,
  ...reorderRoutes,
];
