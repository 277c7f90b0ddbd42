export { createPress, type Press } from './press.ts';
