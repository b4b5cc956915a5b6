/**
 * Currency signs as they stand in shops, and the minor units of ISO 4217.
 *
 * A sign that several currencies share lists them all, the usual one first; {@link chooseCurrency} picks by
 * what else is known (a hint of the page, the region of its language).
 */

/** Currencies whose minor unit has another number of digits than two (ISO 4217, list one). */
const MINOR_DIGITS: Readonly<Record<string, number>> = {
  ...digitsOf(0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"),
  ...digitsOf(3, "BHD IQD JOD KWD LYD OMR TND"),
  ...digitsOf(4, "CLF UYW"),
};

/** `sign=CODE CODE …`, one sign a line; shop usage and CLDR's narrow and wide signs. */
const SIGNS = `
$=USD CAD AUD NZD MXN ARS CLP COP HKD SGD TWD BBD BMD BND BSD BZD CUP DOP FJD GYD JMD KYD LRD NAD SBD SRD TTD UYU XCD
US$=USD
U$S=USD
USD$=USD
CA$=CAD
C$=CAD NIO
CAD$=CAD
CDN$=CAD
A$=AUD
AU$=AUD
AUD$=AUD
NZ$=NZD
HK$=HKD
S$=SGD
SGD$=SGD
NT$=TWD
MX$=MXN
AR$=ARS
CL$=CLP
CO$=COP
COL$=COP
R$=BRL
RD$=DOP
J$=JMD
TT$=TTD
EC$=XCD
T$=TOP
WS$=WST
N$=NAD
B$=BND
€=EUR
£=GBP EGP LBP SYP FKP GIP SHP SSP
UK£=GBP
E£=EGP
L£=LBP
¥=JPY CNY
JP¥=JPY
CN¥=CNY
RMB=CNY
円=JPY
元=CNY TWD HKD
圓=TWD HKD
₩=KRW KPW
원=KRW
₹=INR
Rs=INR PKR LKR NPR MUR SCR
Rs.=INR PKR LKR NPR MUR SCR
₽=RUB
руб=RUB
руб.=RUB
р.=RUB
₴=UAH
грн=UAH
грн.=UAH
₺=TRY
TL=TRY
₪=ILS
₫=VND
đ=VND
฿=THB
₱=PHP
₦=NGN
₵=GHS
GH₵=GHS
GH¢=GHS
₡=CRC
₲=PYG
₸=KZT
₮=MNT
₭=LAK
₾=GEL
֏=AMD
₼=AZN
৳=BDT
៛=KHR
؋=AFN
﷼=SAR IRR YER OMR QAR
zł=PLN
zl=PLN
Kč=CZK
Kčs=CZK
Ft=HUF
lei=RON MDL
Lei=RON MDL
leu=RON MDL
лв=BGN
лв.=BGN
kr=SEK NOK DKK ISK
kr.=DKK SEK NOK ISK
Kr=SEK NOK DKK ISK
Kr.=DKK SEK NOK ISK
Ikr=ISK
Dkr=DKK
Nkr=NOK
Skr=SEK
Fr=CHF XPF
Fr.=CHF XPF
SFr=CHF
SFr.=CHF
sFr.=CHF
kn=HRK
KM=BAM
КМ=BAM
din=RSD
din.=RSD
дин=RSD
дин.=RSD
ден=MKD
ден.=MKD
den=MKD
Lekë=ALL
lekë=ALL
RM=MYR
Rp=IDR
Rp.=IDR
R=ZAR
S/=PEN
S/.=PEN
Bs=BOB VES
Bs.=BOB VES
Q=GTQ
L=HNL
KSh=KES
Ksh=KES
KSh.=KES
TSh=TZS
USh=UGX
FCFA=XOF XAF
F CFA=XOF XAF
CFA=XOF XAF
Br=ETB BYN
Kz=AOA
ر.س=SAR
ر.س.=SAR
ريال=SAR
د.إ=AED
د.إ.=AED
درهم=AED MAD
Dhs=AED MAD
DH=MAD AED
د.ك=KWD
د.ك.=KWD
د.ب=BHD
د.ب.=BHD
د.ا=JOD
د.أ=JOD
د.أ.=JOD
د.ت=TND
د.ت.=TND
د.ج=DZD
د.ج.=DZD
د.م=MAD
د.م.=MAD
ر.ع=OMR
ر.ع.=OMR
ر.ق=QAR
ر.ق.=QAR
ج.م=EGP
ج.م.=EGP
جنيه=EGP
ش.ج=ILS
ש"ח=ILS
ש״ח=ILS
บาท=THB
Euro=EUR
euro=EUR
euros=EUR
Euros=EUR
EURO=EUR
Eur=EUR
eur=EUR
euroa=EUR
евро=EUR
ευρώ=EUR
יורו=EUR
يورو=EUR
dollars=USD CAD AUD NZD
dollar=USD CAD AUD NZD
Franken=CHF
kronor=SEK
kroner=NOK DKK
krónur=ISK
złotych=PLN
złote=PLN
złoty=PLN
korun=CZK
forint=HUF
рублей=RUB
рубля=RUB
гривень=UAH
лева=BGN
`;

/** Signs of one or two plain letters that ordinary text is full of: believed only where the currency is expected. */
const CAUTIOUS = new Set([
  "R",
  "Q",
  "L",
  "K",
  "P",
  "F",
  "G",
  "D",
  "DH",
  "KM",
  "КМ",
  "Br",
  "Bs",
  "Ar",
  "den",
  "zl",
  "Fr",
]);

/** Currency codes that are also words, names or units: believed only where the currency is expected. */
const WORDLIKE_CODES = new Set(
  "ALL AMD ANG BAM BOB COP CUP DOP ERN GEL GIP LAK MAD MOP PEN PAB SOS TOP TRY TMT".split(" "),
);

/** Region of a language to its currency: decides between currencies that share a sign, and for "19,-". */
const REGION_CURRENCY: Readonly<Record<string, string>> = pairs(
  "US:USD CA:CAD AU:AUD NZ:NZD MX:MXN AR:ARS CL:CLP CO:COP HK:HKD SG:SGD TW:TWD BB:BBD BM:BMD BN:BND BS:BSD BZ:BZD CU:CUP " +
    "DO:DOP FJ:FJD GY:GYD JM:JMD KY:KYD LR:LRD NA:NAD SB:SBD SR:SRD TT:TTD UY:UYU AG:XCD DM:XCD GD:XCD KN:XCD LC:XCD VC:XCD " +
    "GB:GBP EG:EGP LB:LBP SY:SYP FK:FKP GI:GIP SH:SHP SS:SSP JP:JPY CN:CNY KR:KRW KP:KPW IN:INR PK:PKR LK:LKR NP:NPR MU:MUR " +
    "SC:SCR SE:SEK NO:NOK SJ:NOK DK:DKK FO:DKK GL:DKK IS:ISK RO:RON MD:MDL SA:SAR IR:IRR YE:YER OM:OMR QA:QAR ZA:ZAR GT:GTQ " +
    "HN:HNL BO:BOB VE:VES NI:NIO BA:BAM ET:ETB BY:BYN CH:CHF LI:CHF PF:XPF NC:XPF WF:XPF SN:XOF CI:XOF BJ:XOF BF:XOF ML:XOF " +
    "NE:XOF TG:XOF GW:XOF CM:XAF GA:XAF CG:XAF CF:XAF TD:XAF GQ:XAF AE:AED MA:MAD MK:MKD PL:PLN TR:TRY AL:ALL AM:AMD GE:GEL " +
    "PE:PEN PA:PAB LA:LAK TM:TMT SO:SOS MO:MOP TO:TOP MM:MMK ZM:ZMW MG:MGA BW:BWP GN:GNF CV:CVE RS:RSD CZ:CZK HU:HUF BG:BGN UA:UAH RU:RUB IL:ILS BR:BRL TH:THB ID:IDR MY:MYR VN:VND PH:PHP " +
    "AT:EUR BE:EUR CY:EUR DE:EUR EE:EUR ES:EUR FI:EUR FR:EUR GR:EUR HR:EUR IE:EUR IT:EUR LT:EUR LU:EUR LV:EUR MT:EUR NL:EUR " +
    "PT:EUR SI:EUR SK:EUR",
);

/** Every sign with its currencies. */
export const CURRENCY_SIGNS: ReadonlyMap<string, readonly string[]> = readSigns();
/** Length of the longest sign. */
export const LONGEST_SIGN = Math.max(...[...CURRENCY_SIGNS.keys()].map((sign) => sign.length));

/** How many digits the minor unit of a currency has (ISO 4217); two where the code is not listed otherwise. */
export function minorDigits(currency: string): number {
  return MINOR_DIGITS[currency] ?? 2;
}

/** The currency of a language's region, where this table knows one. */
export function currencyOfLanguage(language: string | undefined): string | null {
  const region = regionOf(language);
  return region === null ? null : (REGION_CURRENCY[region] ?? null);
}

/**
 * Picks the currency that a sign stands for.
 *
 * @param sign as printed
 * @param hint the currency that the page states elsewhere
 * @param regional the currency of the page's region
 * @returns the code and whether it was certain; null when the sign is none, or too weak to believe here
 */
export function chooseCurrency(
  sign: string,
  hint: string | null,
  regional: string | null,
): { currency: string; certain: boolean } | null {
  const shared = CURRENCY_SIGNS.get(sign);
  if (shared === undefined) return null;
  if (hint !== null && shared.includes(hint)) return { currency: hint, certain: true };
  if (regional !== null && shared.includes(regional)) return { currency: regional, certain: shared.length === 1 };
  if (CAUTIOUS.has(sign)) return null;
  const [usual] = shared;
  return usual === undefined ? null : { currency: usual, certain: shared.length === 1 };
}

/** True when three capital letters are a currency code that may be believed here. */
export function isBelievableCode(code: string, hint: string | null, regional: string | null): boolean {
  if (!CODES.has(code)) return false;
  return !WORDLIKE_CODES.has(code) || code === hint || code === regional;
}

/** Active ISO 4217 codes of money (funds, metals and test codes left out). */
const CODES = new Set(
  (
    "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CLP CNY " +
    "COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL HRK HTG HUF IDR ILS " +
    "INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT MOP MRU " +
    "MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB RWF SAR SBD SCR SDG SEK " +
    "SGD SHP SLE SLL SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX USD UYU UZS VES VND VUV WST XAF " +
    "XCD XCG XOF XPF YER ZAR ZMW ZWG CLF UYI UYW CUC"
  ).split(" "),
);

/** True for an ISO 4217 code of money. */
export function isCurrencyCode(code: string): boolean {
  return CODES.has(code);
}

/** Every code that {@link isCurrencyCode} accepts. */
export function allCurrencyCodes(): readonly string[] {
  return [...CODES];
}

/** Main regions of languages (CLDR likely subtags), for those that need no asking. */
const MAIN_REGION: Readonly<Record<string, string>> = {
  ...pairs(
    "en:US de:DE fr:FR es:ES it:IT pl:PL nl:NL pt:BR sv:SE da:DK nb:NO cs:CZ fi:FI ja:JP ko:KR zh:CN he:IL tr:TR ru:RU",
  ),
  ...pairs("uk:UA hu:HU ro:RO el:GR id:ID hi:IN th:TH sk:SK bg:BG"),
};

/** The region of a language tag: stated, or the likely one; `null` for none or no tag. */
export function regionOf(language: string | undefined): string | null {
  if (language === undefined || language === "") return null;
  const stated =
    /^[a-z]{2}-([A-Z]{2})$/.exec(language)?.[1] ??
    (Object.hasOwn(MAIN_REGION, language) ? MAIN_REGION[language] : undefined);
  if (stated !== undefined) return stated;
  try {
    return new Intl.Locale(language).maximize().region ?? null;
  } catch (error) {
    if (error instanceof RangeError) return null; // not a language tag: nothing is known of the region
    throw error;
  }
}

function digitsOf(digits: number, codes: string): Record<string, number> {
  return Object.fromEntries(codes.split(" ").map((code) => [code, digits]));
}

function pairs(text: string): Record<string, string> {
  return Object.fromEntries(text.split(" ").map((pair) => [pair.slice(0, 2), pair.slice(3)]));
}

function readSigns(): Map<string, readonly string[]> {
  const signs = new Map<string, readonly string[]>();
  for (const line of SIGNS.trim().split("\n")) {
    const at = line.lastIndexOf("=");
    signs.set(line.slice(0, at), line.slice(at + 1).split(" "));
  }
  return signs;
}
