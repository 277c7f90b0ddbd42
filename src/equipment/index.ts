export { describeMachine } from './describe-machine.ts';
export { nameplateColumns, nameplateOf } from './nameplate.ts';
export { refuseImpossiblePlate } from './refuse-impossible-plate.ts';
export { equipmentRoutes } from './routes.ts';
