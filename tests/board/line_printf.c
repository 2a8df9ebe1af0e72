/*
 * Measured, the rival: the same number by the C library's snprintf.
 *
 * As it stands, the same fields as ours, without the CRC that ours has; with -DBARE the number and nothing else; with
 * -DFLOAT the number and nothing else, as a floating-point number of degrees (dtostrf).
 */
#include "line.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char line[96];
#if !defined BARE && !defined FLOAT
static uint32_t sequence;
#endif

int main(void) {
    start();
    for (;;) {
        int32_t value = millidegrees();
        uint8_t length;
        making();
#ifdef FLOAT
        dtostrf((double)value / 1000.0, 1, 3, line);
        length = (uint8_t)strlen(line);
        line[length++] = '\r';
        line[length++] = '\n';
#elif defined BARE
        length = (uint8_t)snprintf_P(line, sizeof line, PSTR("%lde-3\r\n"), (long)value);
#else
        length = (uint8_t)snprintf_P(line, sizeof line, PSTR("~1,sample,%lu,%lu,angle,%lde-3,deg,-\r\n"),
                                     (unsigned long)sequence++, (unsigned long)(123456u + TCNT1), (long)value);
#endif
        made();
        send(line, length);
    }
}
