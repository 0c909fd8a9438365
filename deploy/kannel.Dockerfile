# The SMS gateway of deploy/compose.yaml: Debian's own package, one program a container.
FROM debian:bookworm-slim
# Its services must not start by themselves; the containers start them. The package makes a user without a group of its own.
RUN printf '#!/bin/sh\nexit 101\n' > /usr/sbin/policy-rc.d && chmod +x /usr/sbin/policy-rc.d \
 && apt-get update \
 && apt-get install -y --no-install-recommends kannel \
 && rm -rf /var/lib/apt/lists/* /usr/sbin/policy-rc.d \
 && groupadd --system kannel \
 && usermod --gid kannel kannel \
 && install -d -m 0700 -o kannel -g kannel /var/lib/kannel /var/lib/kannel/store /var/lib/kannel/dlr /var/log/kannel
USER kannel
# Texts that wait, and the access log that neckline compare reads.
VOLUME ["/var/lib/kannel", "/var/log/kannel"]
ENTRYPOINT ["/usr/sbin/bearerbox"]
CMD ["-v", "4", "/etc/kannel/neckline.conf"]
