/**
 * The second script of the overlay: reads the page, judges, draws.
 *
 *   session   pack -> page reader -> verdicts, in slices       engine    judges and explains, in the page
 *   surface   what is drawn: marks, strip, opened mark         placer    keeps marks on their cards
 */
import { sessionFor } from "./session.ts";
import { offerSecondStage } from "./stage.ts";

offerSecondStage({ sessionFor });
