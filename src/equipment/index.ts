export { describeMachine } from './describe-machine.ts';
export { nameplateColumns, nameplateOf } from './nameplate.ts';
export { equipmentRoutes } from './routes.ts';
