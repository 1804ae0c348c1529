// A radio node for Drybell: SHT31 air probe and one moisture blade, over Wi-Fi to the MQTT broker. UNTRIED on a board.
// Public domain. Libraries: Arduino core for ESP32, PubSubClient.
#include <PubSubClient.h>
#include <WiFi.h>
#include <Wire.h>

const char *NETWORK = "name of your network";
const char *NETWORK_WORD = "its password";
const char *BROKER = "192.168.1.10";
const uint16_t BROKER_PORT = 1883;
const char *BROKER_USER = "alder-row";
const char *BROKER_WORD = "its password";
const char *NODE = "n1";
const char *TOPIC = "nodes/n1/state";

const int BLADE_POWER = 25;  // feeds the blade, 5 mA
const int BLADE_OUT = 34;    // an ADC1 pin: ADC2 does not work beside Wi-Fi
const int BATTERY = 35;      // half of the battery through 2 x 100 kOhm
const uint64_t SLEEP_US = 300ULL * 1000000ULL;
const int SAMPLES = 20;
const uint8_t SHT31 = 0x44;

// CRC-8 of the sensor's data sheet: polynomial 0x31, start 0xFF
static uint8_t crc8(const uint8_t *bytes) {
  uint8_t crc = 0xFF;
  for (int i = 0; i < 2; i++) {
    crc ^= bytes[i];
    for (int bit = 0; bit < 8; bit++) crc = (crc & 0x80) ? (crc << 1) ^ 0x31 : crc << 1;
  }
  return crc;
}

// false when the sensor does not answer or its checksum is wrong: then nothing is sent for it
static bool readAir(float &celsius, float &percent) {
  Wire.beginTransmission(SHT31);
  Wire.write(0x24);
  Wire.write(0x00);
  if (Wire.endTransmission() != 0) return false;
  delay(16);
  uint8_t b[6];
  if (Wire.requestFrom(SHT31, (uint8_t)6) != 6) return false;
  for (int i = 0; i < 6; i++) b[i] = Wire.read();
  if (crc8(b) != b[2] || crc8(b + 3) != b[5]) return false;
  celsius = -45.0f + 175.0f * ((b[0] << 8) | b[1]) / 65535.0f;
  percent = 100.0f * ((b[3] << 8) | b[4]) / 65535.0f;
  return true;
}

// mean over 100 ms, so that mains hum cancels
static uint32_t meanMillivolts(int pin) {
  uint32_t sum = 0;
  for (int i = 0; i < SAMPLES; i++) {
    sum += analogReadMilliVolts(pin);
    delay(5);
  }
  return sum / SAMPLES;
}

static void sleepOn() {
  WiFi.disconnect(true);
  esp_sleep_enable_timer_wakeup(SLEEP_US);
  esp_deep_sleep_start();
}

void setup() {
  pinMode(BLADE_POWER, OUTPUT);
  digitalWrite(BLADE_POWER, HIGH);
  Wire.begin(21, 22);
  delay(300);
  const uint32_t bladeMv = meanMillivolts(BLADE_OUT);
  digitalWrite(BLADE_POWER, LOW);
  const float battery = 2.0f * meanMillivolts(BATTERY) / 1000.0f;
  float celsius, percent;
  const bool air = readAir(celsius, percent);

  WiFi.mode(WIFI_STA);
  WiFi.begin(NETWORK, NETWORK_WORD);
  for (int i = 0; i < 100 && WiFi.status() != WL_CONNECTED; i++) delay(100);
  if (WiFi.status() != WL_CONNECTED) sleepOn();

  WiFiClient socket;
  PubSubClient mqtt(socket);
  mqtt.setServer(BROKER, BROKER_PORT);
  if (!mqtt.connect(NODE, BROKER_USER, BROKER_WORD)) sleepOn();
  char airPart[48] = "";
  if (air) snprintf(airPart, sizeof airPart, "\"air\":{\"t\":%.2f,\"rh\":%.1f},", celsius, percent);
  char text[160];
  snprintf(text, sizeof text, "{%s\"block\":{\"mv\":%u},\"bat\":%.2f,\"rssi\":%d}", airPart, (unsigned)bladeMv,
           battery, (int)WiFi.RSSI());
  mqtt.publish(TOPIC, text, false);  // not retained
  mqtt.loop();
  delay(100);
  mqtt.disconnect();
  sleepOn();
}

void loop() {}
