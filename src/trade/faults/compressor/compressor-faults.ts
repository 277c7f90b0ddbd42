import type { Fault } from '../fault.ts';
import { compressorGrounded } from './compressor-grounded.ts';
import { compressorLocked } from './compressor-locked.ts';
import { compressorOpenWinding } from './compressor-open-winding.ts';
import { compressorOverloadOpen } from './compressor-overload-open.ts';
import { compressorWeakValves } from './compressor-weak-valves.ts';

export const compressorFaults = {
  compressor_open_winding: compressorOpenWinding,
  compressor_grounded: compressorGrounded,
  compressor_locked: compressorLocked,
  compressor_weak_valves: compressorWeakValves,
  compressor_overload_open: compressorOverloadOpen,
} as const satisfies Record<string, Fault>;
