import { STATE_FOLDER, unitWord } from '../../config/service-place.js';

export interface UnitPlaces {
  readonly node: string;
  /** This program's compiled entry, absolute. */
  readonly program: string;
  readonly config: string;
  readonly user: string;
  /** Group that may open serial ports. */
  readonly portGroup: string;
}

/** Semi-space of the garbage collector, MB: 136 MB resident without it, 109 MB with it. */
const SMALL_HEAP = '--max-semi-space-size=1';

/**
 * The systemd unit. The clock is waited for by the program itself and not by time-sync.target, which on a farm without
 * network and with a battery clock never comes.
 */
export function serviceUnit({ node, program, config, user, portGroup }: UnitPlaces): string {
  const command = `${unitWord(node)} ${unitWord(program)}`;
  return `# Written by "drybell service install".
[Unit]
Description=Drybell watches trays of seedling blocks
After=local-fs.target time-set.target
StartLimitIntervalSec=0

[Service]
Type=notify
# The program tells through systemd-notify, a process of its own.
NotifyAccess=all
# Fed by the loop that reads and decides, every 20 s: when that stands still for three minutes it is started anew.
WatchdogSec=180
User=${user}
SupplementaryGroups=${portGroup}
StateDirectory=drybell
WorkingDirectory=${STATE_FOLDER}
UMask=0077
# Holds everything back until the clock can be trusted: a wrong time would spoil readings and rounds.
ExecStartPre=${command} service wait-for-clock --config ${unitWord(config)}
# A small young generation keeps the process under 110 MB; it has little to do between two readings.
ExecStart=${unitWord(node)} ${SMALL_HEAP} ${unitWord(program)} run --config ${unitWord(config)}
TimeoutStartSec=infinity
TimeoutStopSec=10
Restart=on-failure
RestartSec=5
# A configuration that can't be used is not mended by starting again.
RestartPreventExitStatus=2
# Three to four times what it needs; a machine of 512 MB keeps room for others.
MemoryHigh=300M
MemoryMax=400M
TasksMax=64
LimitNOFILE=4096
LimitCORE=0
# An ordinary day is some hundred lines: a fault that repeats itself fills no card.
LogRateLimitIntervalSec=30
LogRateLimitBurst=200

# Serial boards, and nothing else of the machine.
DevicePolicy=closed
DeviceAllow=char-ttyACM rw
DeviceAllow=char-ttyUSB rw
NoNewPrivileges=yes
CapabilityBoundingSet=
ProtectSystem=strict
ProtectHome=read-only
PrivateTmp=yes
PrivateMounts=yes
RemoveIPC=yes
ProtectClock=yes
ProtectHostname=yes
ProtectKernelLogs=yes
ProtectProc=invisible
ProtectKernelTunables=yes
ProtectKernelModules=yes
ProtectControlGroups=yes
RestrictAddressFamilies=AF_UNIX AF_INET AF_INET6 AF_NETLINK
RestrictSUIDSGID=yes
LockPersonality=yes
RestrictNamespaces=yes
RestrictRealtime=yes
SystemCallArchitectures=native
# What a service needs; what it needs and may not gets an error, not a signal.
SystemCallFilter=@system-service
SystemCallFilter=~@privileged @resources
SystemCallErrorNumber=EPERM

[Install]
WantedBy=multi-user.target
`;
}
