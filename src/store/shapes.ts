/** Page shapes that a person has taught, one record each: `shape/<host>/<id>`. */
import { type PageShape, pageShapeSchema } from "../formats/page-shape.ts";
import type { RecordKind, Records } from "./records.ts";

const PREFIX = "shape/";
const shapeKind: RecordKind<PageShape> = { version: 1, schema: pageShapeSchema, migrations: {} };

/** Page shapes that a person has taught. */
export class ShapeStore {
  readonly #records: Records;

  constructor(records: Records) {
    this.#records = records;
  }

  async list(): Promise<PageShape[]> {
    return (await this.#records.list(PREFIX, shapeKind)).map(({ value }) => value);
  }

  /** Adds shapes or replaces those of the same host and id. */
  async save(...shapes: readonly PageShape[]): Promise<void> {
    await this.#records.write(
      shapes.map((value) => ({ key: keyOf(value), value })),
      shapeKind,
    );
  }

  async remove(shape: Pick<PageShape, "host" | "id">): Promise<void> {
    await this.#records.remove([keyOf(shape)]);
  }
}

/** True when a shape applies to a host: its own name, or any sub-domain after `*.`. */
export function shapeCovers(shape: Pick<PageShape, "host">, host: string): boolean {
  if (!shape.host.startsWith("*.")) return shape.host === host;
  const base = shape.host.slice(2);
  return host === base || host.endsWith(`.${base}`);
}

function keyOf({ host, id }: Pick<PageShape, "host" | "id">): string {
  return `${PREFIX}${host}/${id}`;
}
