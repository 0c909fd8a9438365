/**
 * ISO/IEC 7064 MOD 97-10 as an independent implementation gave it: npm cdigit 5.0.1 (LiosK, MIT or Apache-2.0),
 * `mod97_10.generate`, written down once since that package wants a newer Node.
 */

/** Codes of single payloads: every 37,501st of six digits, every 7,500,013th of eight. */
export const codes: readonly string[] = [
  '10000022',
  '13750139',
  '17500256',
  '21250373',
  '25000490',
  '28750510',
  '32500627',
  '36250744',
  '40000861',
  '43750978',
  '47501095',
  '51251115',
  '55001232',
  '58751349',
  '62501466',
  '66251583',
  '70001603',
  '73751720',
  '77501837',
  '81251954',
  '85002071',
  '88752188',
  '92502208',
  '96252325',
  '1000000064',
  '1750001348',
  '2500002632',
  '3250003916',
  '4000005297',
  '4750006581',
  '5500007865',
  '6250009149',
  '7000010433',
  '7750011717',
  '8500013098',
  '9250014382',
];

/** Many payloads in order, and the SHA-256 of all their codes, one a line. */
export const rows = [
  {
    what: 'all payloads of six digits in steps of 7',
    from: 100_000,
    to: 999_999,
    step: 7,
    sha256: '765225bb243e55e422367f38518ff722e04caf72d4654479bb51b37924be6b02',
  },
  {
    what: 'payloads of eight digits in steps of 9,973',
    from: 10_000_000,
    to: 99_999_999,
    step: 9_973,
    sha256: 'fddbb938b39175908d6baae799c72b01dd82fadb05b3c6acaed6ce41868c924c',
  },
] as const;
