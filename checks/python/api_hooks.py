"""What schemathesis must know of our API: a piece of an upload (IETF resumable uploads) is bytes as they are."""

import schemathesis


@schemathesis.serializer("application/partial-upload")
def piece(_ctx, value) -> bytes:
    return value if isinstance(value, bytes) else str(value).encode()
