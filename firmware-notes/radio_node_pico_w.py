# A radio node for Drybell: SHT31 air probe and one moisture blade, over Wi-Fi to the MQTT broker. UNTRIED on a board.
# Public domain. MicroPython for Pico W, with umqtt.simple; save as main.py.
import json
import time

import machine
import network
from umqtt.simple import MQTTClient

NETWORK, NETWORK_WORD = "name of your network", "its password"
BROKER, BROKER_USER, BROKER_WORD = "192.168.1.10", "alder-row", "its password"
NODE, TOPIC = "n1", "nodes/n1/state"
SLEEP_MS = 300_000
SAMPLES = 20
SHT31 = 0x44
REFERENCE_MV = 3300  # measure between 3V3 and GND

blade_power = machine.Pin(15, machine.Pin.OUT)
blade_out = machine.ADC(26)
bus = machine.I2C(0, sda=machine.Pin(4), scl=machine.Pin(5), freq=100_000)


def crc8(two):
    """CRC-8 of the sensor's data sheet: polynomial 0x31, start 0xFF."""
    crc = 0xFF
    for byte in two:
        crc ^= byte
        for _ in range(8):
            crc = ((crc << 1) ^ 0x31 if crc & 0x80 else crc << 1) & 0xFF
    return crc


def read_air():
    """None when the sensor does not answer or its checksum is wrong: then nothing is sent for it."""
    try:
        bus.writeto(SHT31, b"\x24\x00")
        time.sleep_ms(16)
        b = bus.readfrom(SHT31, 6)
    except OSError:
        return None
    if crc8(b[0:2]) != b[2] or crc8(b[3:5]) != b[5]:
        return None
    return {
        "t": round(-45 + 175 * (b[0] << 8 | b[1]) / 65535, 2),
        "rh": round(100 * (b[3] << 8 | b[4]) / 65535, 1),
    }


def read_blade_mv():
    """Mean over 100 ms, so that mains hum cancels."""
    blade_power.on()
    time.sleep_ms(300)
    total = 0
    for _ in range(SAMPLES):
        total += blade_out.read_u16()
        time.sleep_ms(5)
    blade_power.off()
    return round(total / SAMPLES / 65535 * REFERENCE_MV)


def tell(message):
    wifi = network.WLAN(network.STA_IF)
    wifi.active(True)
    wifi.connect(NETWORK, NETWORK_WORD)
    for _ in range(100):
        if wifi.isconnected():
            break
        time.sleep_ms(100)
    if wifi.isconnected():
        message["rssi"] = wifi.status("rssi")
        mqtt = MQTTClient(NODE, BROKER, user=BROKER_USER, password=BROKER_WORD)
        mqtt.connect()
        mqtt.publish(TOPIC, json.dumps(message))  # not retained
        mqtt.disconnect()
    wifi.active(False)


while True:
    try:
        message = {"block": {"mv": read_blade_mv()}}
        air = read_air()
        if air is not None:
            message["air"] = air
        tell(message)
    except OSError:
        pass  # broker or network away: the next round tries again, and Drybell notices the silence
    time.sleep_ms(SLEEP_MS)
