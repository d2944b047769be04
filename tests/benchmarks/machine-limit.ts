import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Nanoseconds for one node pair in C, or null where there is no compiler or no AVX2. */
export function machineLimit(source: string): { readonly double: number; readonly single: number } | null {
  const folder = mkdtempSync(join(tmpdir(), 'offcentre-peak-'));
  try {
    const program = join(folder, 'peak');
    execFileSync('cc', ['-O3', '-mavx2', '-mfma', '-ffast-math', source, '-o', program, '-lm'], { stdio: 'ignore' });
    const [double, single] = execFileSync(program, { encoding: 'utf8' }).trim().split(' ').map(Number);
    return { double: double!, single: single! };
  } catch {
    return null;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
