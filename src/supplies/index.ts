export { type BilledPartCost, billedCosts } from './billed-costs.ts';
export { supplyRoutes } from './routes.ts';
export { type Undone, undoUse } from './undo-use.ts';
export { usePart } from './use-part.ts';
