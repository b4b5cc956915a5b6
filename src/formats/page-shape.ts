/**
 * A page shape: a small declarative description of how one site's listings lie, where the generic reader
 * needs help. Selectors only; nothing in it can execute (design section 6, `rules/page-shapes/`).
 */
import * as z from "zod";

const selector = z.string().min(1).max(400);

/** The schema of one page shape. */
export const pageShapeSchema = z.strictObject({
  format: z.literal("falsefit-page-shape/1"),
  id: z.string().min(1).max(120),
  /** Host name it applies to, such as `shop.example`; a leading `*.` takes sub-domains in. */
  host: z.string().min(1).max(253),
  /** Path prefix it applies to; all paths when absent. */
  path: z.string().max(400).optional(),
  /** Selects each listing's element. */
  record: selector,
  /** Inside a record: the element that holds the title, the price now, and others where known. */
  title: selector,
  price: selector.optional(),
  link: selector.optional(),
  shipping: selector.optional(),
  condition: selector.optional(),
  /** Elements inside a record whose text is never read. */
  skip: z.array(selector).max(20).optional(),
  /** `shipped` with the program, or `taught` by a person on a page. */
  origin: z.enum(["shipped", "taught"]).default("taught"),
});

/** One page shape. */
export type PageShape = z.infer<typeof pageShapeSchema>;
