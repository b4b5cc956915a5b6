/** Values of a part: a field for each that matters for its kind, and any other by name. */
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { useWords } from "../../ui/words-context.tsx";
import { quantitiesOf } from "../part-types.ts";
import { quantityName, unitOf } from "../quantity-words.ts";
import { QUANTITY_NAME } from "./part-draft.ts";

interface QuantityFieldsProps {
  type: string;
  values: Readonly<Record<string, string>>;
  onChange: (values: Readonly<Record<string, string>>) => void;
}

/** One field a quantity. */
export function QuantityFields({ type, values, onChange }: QuantityFieldsProps) {
  const words = useWords();
  const names = [...new Set([...quantitiesOf(type), ...Object.keys(values)])];
  return (
    <div class="wb-quantities">
      {names.map((name) => (
        <TextField
          key={name}
          label={[quantityName(name, words), unitOf(name)].filter((text) => text !== "").join(", ")}
          value={values[name] ?? ""}
          onInput={(value) => onChange({ ...values, [name]: value })}
          maxLength={120}
        />
      ))}
    </div>
  );
}

/** Adds a quantity that the kind of part does not have by itself. */
export function OtherQuantity({ values, onChange }: Omit<QuantityFieldsProps, "type">) {
  const words = useWords();
  const [name, setName] = useState("");
  const [wrong, setWrong] = useState(false);
  const add = () => {
    const plain = name.trim();
    setWrong(!QUANTITY_NAME.test(plain));
    if (!QUANTITY_NAME.test(plain)) return;
    onChange({ ...values, [plain]: values[plain] ?? "" });
    setName("");
  };
  return (
    <div class="wb-inline">
      <TextField
        label={words.say("catalog_quantity_else")}
        hint={words.say("catalog_quantity_hint")}
        value={name}
        onInput={setName}
        maxLength={56}
        {...(wrong ? { error: words.say("catalog_fault_quantity_name") } : {})}
      />
      <Button onPress={add}>{words.say("catalog_quantity_add")}</Button>
    </div>
  );
}
