export { supplyRoutes } from './routes.ts';
export { undoUse } from './undo-use.ts';
export { usePart } from './use-part.ts';
