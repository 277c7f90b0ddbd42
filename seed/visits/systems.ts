export { heatPump } from './systems/heat-pump.ts';
export { miniSplit } from './systems/mini-split.ts';
export { oldSplit } from './systems/old-split.ts';
export { packageUnit } from './systems/package-unit.ts';
export { splitAirHandler } from './systems/split-air-handler.ts';
export { splitFurnace } from './systems/split-furnace.ts';
