import { z } from 'zod';

/**
 * Keys that the map at `path` of `value` may have, by `schema`; empty where it is no map with
 * fixed keys. Where the schema leaves a choice, the option that the value there has begun.
 */
export function keysAt(
  schema: z.core.$ZodType,
  path: readonly PropertyKey[],
  value: unknown,
): readonly string[] {
  const inner = unwrap(schema);
  if (inner instanceof z.ZodUnion) {
    const option = optionFor(inner, value);
    return option === undefined ? [] : keysAt(option, path, value);
  }
  const [step, ...rest] = path;
  if (step === undefined) return inner instanceof z.ZodObject ? Object.keys(inner.shape) : [];
  const below = stepInto(inner, step);
  return below === undefined ? [] : keysAt(below, rest, childOf(value, step));
}

function unwrap(schema: z.core.$ZodType): z.core.$ZodType {
  if (schema instanceof z.ZodOptional) return unwrap(schema.def.innerType);
  if (schema instanceof z.ZodExactOptional) return unwrap(schema.def.innerType);
  return schema;
}

function stepInto(schema: z.core.$ZodType, step: PropertyKey): z.core.$ZodType | undefined {
  if (schema instanceof z.ZodObject) return schema.shape[String(step)];
  if (schema instanceof z.ZodRecord) return schema.valueType;
  if (schema instanceof z.ZodArray) return schema.element;
  return undefined;
}

function optionFor(union: z.ZodUnion, value: unknown): z.core.$ZodType | undefined {
  if (!(union instanceof z.ZodDiscriminatedUnion)) {
    return union.options.find((option) => unwrap(option) instanceof z.ZodObject);
  }
  const { discriminator } = union.def;
  return union.options.find(
    (option) =>
      option instanceof z.ZodObject &&
      z.safeParse(option.shape[discriminator], childOf(value, discriminator)).success,
  );
}

function childOf(value: unknown, step: PropertyKey): unknown {
  if (typeof value !== 'object' || value === null) return undefined;
  return Object.getOwnPropertyDescriptor(value, step)?.value;
}
