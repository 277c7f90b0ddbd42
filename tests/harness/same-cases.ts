import fc from 'fast-check';
import { caseSeed } from './case-seed.ts';

// Read before every test file; a failing property prints the seed it had.
fc.configureGlobal({ seed: caseSeed });
