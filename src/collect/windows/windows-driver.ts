import { cleaned } from '../unix/draft.ts';
import { textOf } from '../unix/json-values.ts';
import { cell, type WindowsEvidence } from './windows-sections.ts';

/** Name of the driver's file without folder and ending, of `\SystemRoot\...\rt640x64.sys`. */
export function driverName({ adapter }: WindowsEvidence): string | undefined {
  const path = cleaned(cell(adapter, 'DriverName', textOf));
  return /([^\\/]+?)(?:\.sys)?$/i.exec(path ?? '')?.[1]?.toLowerCase();
}
