/* currency.c - ISO 4217:2015 (list one): active codes and the digits of their minor units; 2 where nothing is said. */
#include "base/arena.h"
#include "read/raw.h"

#include <string.h>

static const char CODES[] = " AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN "
                            "BWP BYN BZD CAD CDF CHF CLP CNY"
                            " COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ "
                            "GYD HKD HNL HTG HUF IDR ILS INR"
                            " IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD "
                            "MDL MGA MKD MMK MNT MOP MRU MUR"
                            " MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD "
                            "RUB RWF SAR SBD SCR SDG SEK SGD"
                            " SHP SLE SOS SRD SSP STN SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX USD UYU UZS "
                            "VES VND VUV WST XAF XCD XOF XPF"
                            " YER ZAR ZMW ";
static const char NO_DIGITS[] = " BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF ";
static const char THREE_DIGITS[] = " BHD IQD JOD KWD LYD OMR TND ";

static bool is_in(const char *list, const char *code)
{
  char word[6] = " ";
  if (strlen(code) != 3 || strspn(code, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != 3)
    return false;
  memcpy(word + 1, code, 3);
  word[4] = ' ';
  return strstr(list, word) != NULL;
}

int pw_currency_digits(const char *code) { return is_in(NO_DIGITS, code) ? 0 : is_in(THREE_DIGITS, code) ? 3 : 2; }

const char *pw_currency_sign(const char *code, struct pw_reader *r)
{
  if (!is_in(CODES, code))
    return NULL;
  if (strcmp(code, "USD") == 0)
    return "$";
  if (strcmp(code, "EUR") == 0)
    return "\342\202\254"; /* U+20AC */
  if (strcmp(code, "GBP") == 0)
    return "\302\243"; /* U+00A3 */
  char *sign = pw_arena_printf(r->ctx->arena, "%s ", code);
  if (!sign)
    r->is_out_of_memory = true;
  return sign ? sign : "";
}
