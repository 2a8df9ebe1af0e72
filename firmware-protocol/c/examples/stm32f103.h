/*
 * The little of an STM32F103 (Cortex-M3, 8 MHz after reset, 3.3 V) that the example sketch needs: milliseconds, and a
 * serial line at 115200 Bd (PA9 sends, PA10 hears) on which a line goes out whole. No library of the maker, no C library.
 *
 * Registers of the core after the ARMv7-M Architecture Reference Manual, those of the chip after its reference manual; both
 * from memory. Constants are read from flash as from RAM, so jigtrue.h needs no definitions here.
 */
#ifndef STM32F103_H
#define STM32F103_H

#include "../jigtrue.h"

#include <stdint.h>

#define AT(address) (*(volatile uint32_t *)(address))

#define SYSTICK_CONTROL AT(0xE000E010u)
#define SYSTICK_RELOAD AT(0xE000E014u)
#define SYSTICK_NOW AT(0xE000E018u)
#define CLOCKS_ON AT(0x40021018u) /* RCC_APB2ENR */
#define PINS_A_LOW AT(0x40010800u)
#define PINS_A_HIGH AT(0x40010804u)
#define LINE_STATE AT(0x40013800u) /* USART1 */
#define LINE_DATA AT(0x40013804u)
#define LINE_RATE AT(0x40013808u)
#define LINE_CONTROL AT(0x4001380Cu)
#define ADC_STATE AT(0x40012400u)
#define ADC_CONTROL AT(0x40012408u)
#define ADC_SLOWLY AT(0x40012410u)
#define ADC_CHANNEL AT(0x40012434u)
#define ADC_VALUE AT(0x4001244Cu)

static volatile uint32_t milliseconds;
static char in_ring[64]; /* a whole command, while a line goes out */
static uint8_t in_head, in_tail;

int main(void);
void tick(void);
void begin(void);

extern uint32_t data_from, data_begin, data_end, bss_begin, bss_end, stack_top;

void tick(void) { milliseconds++; }

static uint32_t now_ms(void) { return milliseconds; }

/* What the processor does first: variables get their values, then main. */
void begin(void) {
    uint32_t *from = &data_from;
    uint32_t *to = &data_begin;
    while (to < &data_end) {
        *to++ = *from++;
    }
    for (to = &bss_begin; to < &bss_end; to++) {
        *to = 0;
    }
    (void)main();
    for (;;) {
    }
}

static void stop(void) {
    for (;;) {
    }
}

/* The first sixteen vectors: stack, reset, faults, and the system timer in the last place. */
__attribute__((section(".vectors"), used)) static void (*const vectors[16])(void) = {
    (void (*)(void))(uintptr_t)&stack_top, begin, stop, stop, stop, stop, stop, 0, 0, 0, 0, stop, stop, 0, stop, tick};

static void listen(void) {
    if (LINE_STATE & 1u << 5) {
        uint8_t next = (uint8_t)((in_head + 1u) & 63u);
        char byte = (char)LINE_DATA;
        if (next != in_tail) {
            in_ring[in_head] = byte;
            in_head = next;
        }
    }
}

/* Sends a whole line, and listens meanwhile. */
static void send(const char *line, uint8_t length) {
    while (length > 0) {
        listen();
        if (LINE_STATE & 1u << 7) {
            LINE_DATA = (uint8_t)*line;
            line++;
            length--;
        }
    }
}

/* The next received byte in *byte, or 0 if there is none. */
static uint8_t heard(char *byte) {
    listen();
    if (in_tail == in_head) {
        return 0;
    }
    *byte = in_ring[in_tail];
    in_tail = (uint8_t)((in_tail + 1u) & 63u);
    return 1;
}

static void start_clock_and_line(void) {
    CLOCKS_ON |= 1u << 2 | 1u << 9 | 1u << 14; /* pins A, converter, line */
    SYSTICK_RELOAD = 8000u - 1u;
    SYSTICK_NOW = 0;
    SYSTICK_CONTROL = 7u; /* from the processor's clock, with its interrupt */
    PINS_A_HIGH = (PINS_A_HIGH & ~0xFF0u) | 0x4A0u;
    LINE_RATE = 69u; /* 8 MHz / 115200, 0.6 % off */
    LINE_CONTROL = 1u << 13 | 1u << 3 | 1u << 2;
}

#endif
