/** A catalog from a vendor's spreadsheet: told which column is what, tried row by row, kept when it is right. */
import { useRef, useState } from "preact/hooks";
import type { ConvertFault } from "../../desks/convert-list.ts";
import type { CsvFault } from "../../desks/csv-rows.ts";
import type { Fault } from "../../formats/common.ts";
import type { Words } from "../../text/words.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { LongList } from "../../ui/long-list.tsx";
import { Failure, Loading, Progress } from "../../ui/states.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { PartTypeField } from "../bench/fitted-fields.tsx";
import { FileDrop } from "../file-drop.tsx";
import { otherFileOf } from "../order/draft.ts";
import type { Look } from "../order/order-calls.ts";
import { useTools } from "../tools.tsx";
import { catalogText } from "../work/catalog-info.ts";
import type { Converted } from "../work/catalog-making.ts";
import { CatalogColumns } from "./catalog-columns.tsx";
import { CatalogSummary } from "./catalog-summary.tsx";
import { useKeepCatalog } from "./make-catalog.ts";

/** A list that was chosen, and how it will be read. */
interface Sheet {
  readonly file: File;
  readonly look: Look;
}

type State = { step: "choose"; fault: string } | { step: "reading" } | { step: "columns"; sheet: Sheet };

/** The page. */
export function SheetPage() {
  const words = useWords();
  const { work } = useTools();
  const [state, setState] = useState<State>({ step: "choose", fault: "" });
  const read = async ([file]: readonly File[]) => {
    if (file === undefined) return;
    setState({ step: "reading" });
    const other = await otherFileOf(file);
    if (other !== null) {
      setState({ step: "choose", fault: words.say("catalog_sheet_not_text", { file: file.name }) });
      return;
    }
    setState({ step: "columns", sheet: { file, look: await work.listLook({ content: file }) } });
  };
  return (
    <div class="wb-page wb-page-wide">
      <h1 tabIndex={-1} data-start="">
        {words.say("catalog_way_sheet")}
      </h1>
      <p class="wb-soft">{words.say("catalog_sheet_why")}</p>
      {state.step === "choose" && (
        <FileDrop
          label={words.say("catalog_sheet_choose")}
          hint={words.say("workbench_or_drop")}
          accept=".csv,.tsv,.txt,text/csv,text/tab-separated-values"
          onFiles={read}
        >
          {state.fault !== "" && <p class="ff-error">{state.fault}</p>}
        </FileDrop>
      )}
      {state.step === "reading" && <Loading />}
      {state.step === "columns" && (
        <Columns
          sheet={state.sheet}
          onSheet={(sheet) => setState({ ...state, sheet })}
          onDone={() => setState({ step: "choose", fault: "" })}
        />
      )}
    </div>
  );
}

interface ColumnsProps {
  sheet: Sheet;
  onSheet: (sheet: Sheet) => void;
  onDone: () => void;
}

/** The columns, what the list does not say, and trying it. */
function Columns({ sheet, onSheet, onDone }: ColumnsProps) {
  const words = useWords();
  const { work } = useTools();
  const [partType, setPartType] = useState("");
  const [model, setModel] = useState("");
  const [title, setTitle] = useState(sheet.file.name.replace(/\.[a-z]{3}$/i, ""));
  const [converted, setConverted] = useState<Converted | null>(null);
  const [done, setDone] = useState<number | null>(null);
  const stop = useRef<AbortController | null>(null);
  const { look, file } = sheet;
  const { columns } = look.shape;
  const convert = async () => {
    stop.current = new AbortController();
    setDone(0);
    try {
      const reading = { encoding: look.encoding, delimiter: look.delimiter };
      const rest = {
        ...(partType === "" ? {} : { partType }),
        ...(model.trim() === "" ? {} : { model: model.trim() }),
      };
      const asked = { content: file, reading, shape: look.shape, title, ...rest };
      setConverted(await work.sheetConvert(asked, { signal: stop.current.signal, onProgress: setDone }));
    } catch (error) {
      if (!stop.current.signal.aborted) throw error;
    } finally {
      setDone(null);
    }
  };
  const ready = columns.number !== undefined;
  return (
    <>
      <h2>{words.say("catalog_sheet_columns", { file: file.name })}</h2>
      <CatalogColumns
        look={look}
        onShape={(shape) => {
          setConverted(null);
          onSheet({ ...sheet, look: { ...look, shape } });
        }}
      />
      {!ready && <p class="ff-error">{words.say("catalog_sheet_needs_number")}</p>}
      <fieldset class="wb-group">
        <legend>{words.say("catalog_sheet_unsaid")}</legend>
        <div class="wb-three">
          <TextField label={words.say("catalog_title")} value={title} onInput={setTitle} maxLength={400} />
          {columns.model === undefined && columns.fits === undefined && (
            <TextField
              label={words.say("catalog_sheet_model")}
              hint={words.say("catalog_sheet_model_hint")}
              value={model}
              onInput={setModel}
              maxLength={400}
            />
          )}
          {columns.partType === undefined && <PartTypeField type={partType || "battery"} onChange={setPartType} />}
        </div>
      </fieldset>
      <div class="ff-actions">
        <Button kind={converted ? "plain" : "strong"} disabled={!ready} busy={done !== null} onPress={convert}>
          {words.say("catalog_sheet_try")}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          {words.say("catalog_sheet_another")}
        </Button>
      </div>
      {done !== null && (
        <Progress label={words.say("catalog_sheet_trying")} done={done} onCancel={() => stop.current?.abort()} />
      )}
      {converted && <Result converted={converted} fileName={file.name} />}
    </>
  );
}

const FAULT_ROW_PX = 36;

/** What became of the rows. */
function Result({ converted, fileName }: { converted: Converted; fileName: string }) {
  const words = useWords();
  const keep = useKeepCatalog();
  const [refused, setRefused] = useState<readonly Fault[]>([]);
  const { catalog, info, rows, faults, beyond } = converted;
  const take = async () =>
    setRefused(await keep({ text: catalogText(catalog), origin: { kind: "file", name: fileName } }));
  return (
    <section class="wb-preview" aria-labelledby="sheet-heading">
      <h2 id="sheet-heading">{words.say("catalog_sheet_result", { count: rows })}</h2>
      <CatalogSummary info={info} />
      {faults.length > 0 && (
        <>
          <h3>{words.say("catalog_sheet_faults", { count: faults.length + beyond })}</h3>
          <LongList<ConvertFault | CsvFault>
            label={words.say("catalog_sheet_faults", { count: faults.length + beyond })}
            items={faults}
            keyOf={(fault) => `${fault.row} ${fault.kind} ${"text" in fault ? fault.text : ""}`}
            rowHeight_px={FAULT_ROW_PX}
            height_px={FAULT_ROW_PX * 7}
            row={(fault) => (
              <>
                <b>{words.say("catalog_sheet_row", { row: fault.row })}</b>
                <span>{sheetFaultText(fault, words)}</span>
              </>
            )}
          />
          {beyond > 0 && <p class="wb-soft">{words.say("catalog_beyond", { count: beyond })}</p>}
        </>
      )}
      {refused.length > 0 && <Failure title={words.say("catalog_not_changed")} faults={refused} />}
      <div class="ff-actions">
        <Button kind="strong" disabled={info.parts === 0} onPress={take}>
          {words.say("catalog_take")}
        </Button>
      </div>
      <p class="wb-soft">{words.say("catalog_sheet_after")}</p>
    </section>
  );
}

function sheetFaultText(fault: ConvertFault | CsvFault, words: Words): string {
  const key = `catalog_sheet_fault_${fault.kind.replaceAll("-", "_")}`;
  return words.say(key, { text: "text" in fault ? fault.text : "" });
}
