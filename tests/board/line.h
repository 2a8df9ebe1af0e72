/*
 * What the measured sketches share: the same value once more in each round, and a serial line without interrupts, so that
 * between PB0 high and PB0 low there is nothing but the making of a line. Value and time come from outside (pins and
 * timer), or the compiler would make the line itself.
 */
#ifndef LINE_H
#define LINE_H

#include <avr/io.h>
#include <avr/pgmspace.h>
#include <stdint.h>

static int32_t millidegrees(void) { return (int32_t)((uint32_t)PIND << 6) - 1234 + TCNT1; }

static void start(void) {
    DDRB = _BV(PB0);
    UBRR0 = 16; /* 115200 Bd with U2X */
    UCSR0A = _BV(U2X0);
    UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
    UCSR0B = _BV(TXEN0);
}

static void making(void) { PORTB |= _BV(PB0); }
static void made(void) { PORTB &= (uint8_t)~_BV(PB0); }

static void send(const char *line, uint8_t length) {
    while (length > 0) {
        while (!(UCSR0A & _BV(UDRE0))) {
        }
        UDR0 = (uint8_t)*line;
        line++;
        length--;
    }
}

#endif
