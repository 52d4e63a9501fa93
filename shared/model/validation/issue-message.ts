import type { z } from 'zod';

const kinds: Record<string, string> = { object: 'an object', array: 'a list', int: 'a whole number' };

/** A validation issue of zod as a clause for people: which key, and what it may be. */
export function issueMessage(issue: z.core.$ZodIssue): string {
  const key = issue.path.join('.') || 'it';
  switch (issue.code) {
    case 'invalid_type':
      return `${key} must be ${kinds[issue.expected] ?? `a ${issue.expected}`}`;
    case 'invalid_value':
      return `${key} must be one of ${issue.values.map(String).join(', ')}`;
    case 'too_small':
      return `${key} ${sizeOf(issue.origin, issue.inclusive === false ? 'more than' : 'at least', issue.minimum)}`;
    case 'too_big':
      return `${key} ${sizeOf(issue.origin, issue.inclusive === false ? 'less than' : 'at most', issue.maximum)}`;
    case 'invalid_union': {
      const options = 'options' in issue ? (issue.options as unknown[]) : issue.errors.flat().flatMap(valuesOf);
      return options.length > 0
        ? `${key} must be one of ${options.map(String).join(', ')}`
        : `${key}: ${issue.message}`;
    }
    default:
      // A rule of our own: its message says where the problem is, unless the path does.
      return issue.path.length > 0 ? `${key}: ${issue.message}` : issue.message;
  }
}

const valuesOf = (issue: z.core.$ZodIssue): unknown[] => (issue.code === 'invalid_value' ? issue.values : []);

function sizeOf(origin: string, bound: string, size: unknown): string {
  const count = String(size);
  if (origin === 'string') return `must have ${bound} ${count} character${count === '1' ? '' : 's'}`;
  if (origin === 'array') return `must hold ${bound} ${count}`;
  return `must be ${bound} ${count}`;
}
