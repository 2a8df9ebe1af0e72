/*
 * The little of an ATmega328P (16 MHz, 5 V) that the example sketches need: milliseconds, and a serial
 * line at 115200 Bd on which a line goes out whole or not at all.
 */
#ifndef ATMEGA328P_H
#define ATMEGA328P_H

#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/pgmspace.h>
#include <stdint.h>

#define JIGTRUE_ROM PROGMEM
#define JIGTRUE_READ(address) pgm_read_byte(address)
#include "../jigtrue.h"

static volatile uint32_t milliseconds;
static volatile char out_ring[128];
static volatile uint8_t out_head, out_tail;
static volatile char in_ring[64]; /* a whole command, while a measurement keeps the sketch busy */
static volatile uint8_t in_head, in_tail;

ISR(TIMER0_COMPA_vect) { milliseconds++; }

ISR(USART_UDRE_vect) {
    if (out_tail == out_head) {
        UCSR0B &= (uint8_t)~_BV(UDRIE0);
    } else {
        UDR0 = (uint8_t)out_ring[out_tail];
        out_tail = (uint8_t)((out_tail + 1u) & 127u);
    }
}

ISR(USART_RX_vect) {
    uint8_t next = (uint8_t)((in_head + 1u) & 63u);
    char byte = (char)UDR0;
    if (next != in_tail) {
        in_ring[in_head] = byte;
        in_head = next;
    }
}

static uint32_t now_ms(void) {
    uint32_t now;
    uint8_t status = SREG;
    cli();
    now = milliseconds;
    SREG = status;
    return now;
}

/* Queues a whole line; returns 0, having queued nothing, if there is no room for all of it. */
static uint8_t send(const char *line, uint8_t length) {
    uint8_t head = out_head;
    uint8_t room = (uint8_t)(out_tail - head - 1) & 127u;
    if (length > room) {
        return 0;
    }
    while (length > 0) {
        out_ring[head] = *line;
        head = (uint8_t)((head + 1u) & 127u);
        line++;
        length--;
    }
    out_head = head;
    UCSR0B |= _BV(UDRIE0);
    return 1;
}

/* For a line that must not be lost: waits for room. */
static void send_surely(const char *line, uint8_t length) {
    while (!send(line, length)) {
    }
}

/* The next received byte in *byte, or 0 if there is none. */
static uint8_t heard(char *byte) {
    if (in_tail == in_head) {
        return 0;
    }
    *byte = in_ring[in_tail];
    in_tail = (uint8_t)((in_tail + 1u) & 63u);
    return 1;
}

static void start_clock_and_line(void) {
    TCCR0A = _BV(WGM01);
    TCCR0B = _BV(CS01) | _BV(CS00); /* 16 MHz / 64 */
    OCR0A = 249;                    /* / 250 = 1 kHz */
    TIMSK0 = _BV(OCIE0A);
    UBRR0 = 16; /* 115200 Bd with U2X, 2.1 % off */
    UCSR0A = _BV(U2X0);
    UCSR0C = _BV(UCSZ01) | _BV(UCSZ00); /* 8 data bits, no parity, 1 stop bit */
    UCSR0B = _BV(RXEN0) | _BV(TXEN0) | _BV(RXCIE0);
    sei();
}

#endif
