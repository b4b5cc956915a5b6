/** What the fields of a device are called in words. */
import type { Device } from "../../formats/bench.ts";
import type { Words } from "../../text/words.ts";

const KEYS: Readonly<Record<keyof Device, string>> = {
  id: "bench_field_id",
  name: "bench_name",
  modelNumbers: "bench_model_numbers",
  boardNumber: "bench_board_number",
  buildDate: "bench_build_date",
  family: "bench_family",
  revision: "bench_revision",
  fitted: "bench_fitted",
  accept: "bench_accepted",
  refuse: "bench_refused",
  facts: "bench_field_facts",
  job: "bench_job",
  note: "bench_note",
  archived: "bench_filter_archived",
  picture: "bench_picture",
};

/** The name of a field. */
export function fieldName(field: keyof Device, words: Words): string {
  return words.say(KEYS[field]);
}
