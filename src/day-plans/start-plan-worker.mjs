import { register } from 'tsx/esm/api';

// A thread does not inherit how its parent runs TypeScript; it learns it here.
register();
await import('./plan-worker.ts');
