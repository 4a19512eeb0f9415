import {
  type CheckedValue,
  checkValue,
  type FileForm,
  formatFile,
  type ParsedFile,
  parseFile,
} from '../json-file.ts';
import { STANDARD_VERSION, type Standard, standardSchema } from './standard.ts';

export const STANDARD_FORM: FileForm<Standard> = {
  noun: 'standard',
  version: STANDARD_VERSION,
  schema: standardSchema,
  /** Tool default: many times what a standard needs. */
  longest: 20_000,
};

/** Reads a standard file's text; never throws. A bad one is refused with its line, field and reason. */
export function parseStandard(text: string): ParsedFile<Standard> {
  return parseFile(text, STANDARD_FORM);
}

/** Checks a standard that is already a value; never throws. */
export function checkStandard(value: unknown): CheckedValue<Standard> {
  return checkValue(value, STANDARD_FORM);
}

export function formatStandard(standard: Standard): string {
  return formatFile(standard);
}
