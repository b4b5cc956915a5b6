/** The list of devices with search, filter and order. */
import type { SavedDevice } from "../../store/devices.ts";
import { Button } from "../../ui/button.tsx";
import { SelectField, TextField } from "../../ui/field.tsx";
import { Failure, Loading } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { LinkList } from "../link-list.tsx";
import { hrefOf } from "../route.ts";
import { useBench } from "./bench-state.tsx";
import { DEVICE_ROW_PX, DeviceRow } from "./device-row.tsx";
import {
  type BenchFilter,
  type BenchOrder,
  type BenchQuery,
  benchFilters,
  benchOrders,
  countByFilter,
  findDevices,
} from "./search.ts";

interface BenchListProps {
  currentId: string | undefined;
  query: BenchQuery;
  onQuery: (query: BenchQuery) => void;
}

/** The list; it is there as long as there is any device. */
export function BenchList({ currentId, query, onQuery }: BenchListProps) {
  const words = useWords();
  const { devices, error, standings, inHand, reload } = useBench();
  if (error) {
    return (
      <Failure
        level={2}
        title={words.say("bench_unreadable")}
        faults={[{ field: "", message: error.message }]}
        onRetry={reload}
      />
    );
  }
  if (devices === undefined) return <Loading />;
  const found = findDevices(devices, standings, query);
  return (
    <>
      <ListHead query={query} onQuery={onQuery} />
      <p class="wb-count" role="status">
        {words.say("bench_found", { count: found.length })}
      </p>
      {found.length === 0 ? (
        <NothingFound query={query} onQuery={onQuery} />
      ) : (
        <LinkList<SavedDevice>
          label={words.say("bench_devices")}
          items={found}
          keyOf={({ device }) => device.id}
          hrefOf={({ device }) => hrefOf("bench", { id: device.id })}
          currentKey={currentId}
          rowHeight_px={DEVICE_ROW_PX}
          row={(saved) => (
            <DeviceRow saved={saved} standing={standings.get(saved.device.id)} inHand={saved.device.id === inHand} />
          )}
        />
      )}
    </>
  );
}

function ListHead({ query, onQuery }: Pick<BenchListProps, "query" | "onQuery">) {
  const words = useWords();
  const { devices = [], standings } = useBench();
  const counts = countByFilter(devices, standings);
  const filters = benchFilters.map((filter) => ({
    value: filter,
    label: words.say("bench_filter_with_count", { filter: words.say(filterKeys[filter]), count: counts[filter] }),
  }));
  return (
    <div class="wb-list-head">
      <TextField
        search
        label={words.say("bench_search")}
        placeholder={words.say("bench_search_example")}
        value={query.text}
        onInput={(text) => onQuery({ ...query, text })}
        maxLength={200}
      />
      <div class="wb-two">
        <SelectField
          label={words.say("bench_filter")}
          value={query.filter}
          options={filters}
          onChange={(filter) => onQuery({ ...query, filter: filter as BenchFilter })}
        />
        <SelectField
          label={words.say("bench_order")}
          value={query.order}
          options={benchOrders.map((order) => ({ value: order, label: words.say(orderKeys[order]) }))}
          onChange={(order) => onQuery({ ...query, order: order as BenchOrder })}
        />
      </div>
    </div>
  );
}

function NothingFound({ query, onQuery }: Pick<BenchListProps, "query" | "onQuery">) {
  const words = useWords();
  return (
    <div class="wb-nothing">
      <p>{words.say("bench_nothing_found")}</p>
      <Button kind="quiet" onPress={() => onQuery({ ...query, text: "", filter: "all" })}>
        {words.say("bench_show_all")}
      </Button>
    </div>
  );
}

const filterKeys: Readonly<Record<BenchFilter, string>> = {
  all: "bench_filter_all",
  open: "bench_filter_open",
  contradicted: "bench_filter_contradicted",
  unknown: "bench_filter_unknown",
  pinned: "bench_filter_pinned",
  archived: "bench_filter_archived",
};
const orderKeys: Readonly<Record<BenchOrder, string>> = {
  newest: "bench_order_newest",
  name: "bench_order_name",
  job: "bench_order_job",
};
