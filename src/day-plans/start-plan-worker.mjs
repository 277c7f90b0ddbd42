// A thread does not inherit how its parent runs TypeScript; where Node cannot by itself, it learns it here.
if (!process.features.typescript) {
  const { register } = await import('tsx/esm/api');
  register();
}
await import('./plan-worker.ts');
