export { nameplateOf } from './nameplate.ts';
export { equipmentRoutes } from './routes.ts';
