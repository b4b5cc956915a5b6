/**
 * Which labels mean what in text dumps, as data: folded to lower-case letters and digits. Add what another
 * tool or another language prints.
 */

/** Fields of a section, by what the section describes. */
export interface LabelTable {
  readonly [field: string]: readonly string[];
}

/** Headings that open a section of one kind, folded; a heading counts when it equals one of them. */
export const headings: Readonly<Record<"system" | "board" | "firmware" | "battery" | "memory", readonly string[]>> = {
  system: ["systeminformation", "computersystem", "hardwareoverview", "sysclassdmiid", "sysdevicesvirtualdmiid"],
  board: ["baseboardinformation", "baseboard", "motherboard", "mainboard", "core", "boardinformation"],
  firmware: ["biosinformation", "bios", "firmware", "firmwareinformation"],
  battery: [
    "portablebattery",
    "battery",
    "batteryinformation",
    "modelinformation",
    "installedbatteries",
    "installiertebatterien",
    "batteriesinstallees",
    "batteriasinstaladas",
    "batterieinstallate",
    "zainstalowanebaterie",
  ],
  memory: ["memorydevice", "physicalmemory", "memorymodule"],
};

/** Labels inside a section that a heading, a structure type or its own labels have told. */
export const labels = {
  system: {
    product: ["productname", "product", "modelidentifier", "model", "systemproductname"],
    version: ["version", "productversion", "modelname"],
    stockNumber: ["skunumber", "sku", "productsku", "systemsku", "modelnumber"],
  },
  board: {
    product: ["productname", "product", "boardname", "model"],
    version: ["version", "boardversion"],
  },
  firmware: { released: ["releasedate", "date", "biosdate"] },
  battery: {
    name: [
      "name",
      "devicename",
      "model",
      "modelname",
      "modelnumber",
      "product",
      "powersupplymodelname",
      "nom",
      "nombre",
      "nome",
      "nazwa",
      "id",
    ],
    voltage: ["designvoltage", "designedvoltage", "nominalvoltage", "powersupplyvoltagemindesign", "voltagemindesign"],
    capacity: [
      "designcapacity",
      "designedcapacity",
      "energyfulldesign",
      "chargefulldesign",
      "powersupplyenergyfulldesign",
      "powersupplychargefulldesign",
      "capacity",
      "entwurfskapazität",
      "vorgesehenekapazität",
      "capacitédorigine",
      "capacitédeconception",
      "capacidaddediseño",
      "capacitàdiprogettazione",
      "pojemnośćprojektowa",
    ],
    made: [
      "manufacturedate",
      "sbdsmanufacturedate",
      "dateofmanufacture",
      "herstellungsdatum",
      "datedefabrication",
      "fechadefabricación",
      "datadiproduzione",
      "dataprodukcji",
    ],
    year: ["powersupplymanufactureyear", "manufactureyear"],
    month: ["powersupplymanufacturemonth", "manufacturemonth"],
    day: ["powersupplymanufactureday", "manufactureday"],
  },
  memory: {
    partNumber: ["partnumber", "product"],
    type: ["type", "smbiosmemorytype", "memorytype"],
    speed: ["configuredmemoryspeed", "configuredclockspeed", "speed"],
    volts: ["configuredvoltage"],
    size: ["size", "capacity"],
    form: ["formfactor"],
  },
} as const satisfies Readonly<Record<string, LabelTable>>;

/** Labels that say by themselves what they are, wherever they stand. */
export const explicit = {
  systemProduct: [
    "systemmodel",
    "systemmodell",
    "modèledusystème",
    "modelodelsistema",
    "modellosistema",
    "modelsystemu",
    "csmodel",
    "machinemodel",
    "systemproductname",
    "hardwaremodel",
  ],
  systemStock: ["systemsku", "systemskunummer", "cssystemskunumber"],
  boardProduct: [
    "boardname",
    "baseboardproduct",
    "baseboardprodukt",
    "produitdelacartedebase",
    "productodeplacabase",
    "prodottoschedadibase",
    "produktpłytygłównej",
    "baseboardname",
    "win32baseboardproduct",
  ],
  boardVersion: ["boardversion", "baseboardversion"],
  firmwareDate: ["biosdate", "biosreleasedate", "firmwaredate", "biosversiondate"],
} as const satisfies LabelTable;

/** A section with one of these labels describes a battery, whatever its heading. */
export const batteryMarks: readonly string[] = [
  "designvoltage",
  "designedcapacity",
  "designcapacity",
  "energyfulldesign",
  "chargefulldesign",
  "powersupplyenergyfulldesign",
  "powersupplychargefulldesign",
  "powersupplyvoltagemindesign",
  "sbdsmanufacturedate",
];

/** Labels that head columns of the tables that one system's query tool prints. */
export const columnHeads: ReadonlySet<string> = new Set([
  "product",
  "version",
  "manufacturer",
  "model",
  "partnumber",
  "designvoltage",
  "designcapacity",
  "designedcapacity",
  "devicename",
  "smbiosmemorytype",
  "configuredclockspeed",
  "configuredvoltage",
  "formfactor",
  "skunumber",
  "capacity",
  "speed",
  "name",
]);

/** What one tool calls the machine as a whole, in the entry `description`. */
export const machineWords: ReadonlySet<string> = new Set([
  "notebook",
  "laptop",
  "portable",
  "convertible",
  "detachable",
  "tablet",
  "desktopcomputer",
  "allinone",
  "minipc",
  "computer",
]);

/** A list of nothing but these labels, `product` among them, describes a board. */
export const bareBoard: ReadonlySet<string> = new Set(["product", "version", "manufacturer", "serialnumber"]);

/** Words beside a battery that belong to something else: a mouse, a keyboard, a headset, the mains adapter. */
export const foreignPower: ReadonlySet<string> = new Set([
  "mouse",
  "keyboard",
  "headset",
  "phone",
  "tablet",
  "gaminginput",
  "linepower",
  "mains",
  "usb",
  "ups",
]);
